"""What a check says of a fence at an angle, from the sizes of the shop file."""

from __future__ import annotations

from trued.checks import find_check
from trued.procedure import examine, take

TYPED = ("measured@6=6.004", "measured@12=12.006", "measured@24=24.010")
METAL = {"pivot_beside": "2", "metal_end": "1.5", "metal_front": "1.5", "metal_back": "0.25"}
RING = ("swung=closed", *("piece=7.5",) * 4, "width=2", "where=inside", "gap=0.0197")


def said(check: str, typed: tuple[str, ...], facts: dict[str, str]) -> dict[str, str]:
    return {seen.code: seen.text for seen in examine(take(find_check(check), typed, facts)).seen}


def test_each_detents_zero_is_told() -> None:
    text = said("stop-scale", TYPED, {"pivot_beside": "2", "face": "0.75"})["zero-at-angles"]
    assert (
        "45°: 2.0784 swung away, 3.5784 swung in" in text and "0.125 in thicker" in text and "0.052 in at 22.5°" in text
    )
    assert "zero-at-angles" not in said("stop-scale", TYPED, {"face": "0.75"})


def test_from_which_angle_metal_is_in_the_way() -> None:
    """By hand: hypot(1.5, 1.5) = 2.1213, allowed 2 - 3/16; 45° - acos(1.8125 / 2.1213) = 13.7°."""
    text = said("stop-scale", TYPED, METAL)["metal-at-an-angle"]
    assert "away from the work from 13.7° on" in text and "into" not in text
    assert "metal-in-path" not in said("stop-scale", TYPED, METAL)
    assert "metal-at-an-angle" not in said("stop-scale", TYPED, METAL | {"metal_front": "0.25"})


def test_metal_in_the_way_when_square_is_refused() -> None:
    found = said("stop-scale", TYPED, METAL | {"metal_end": "1.9"})
    assert "short of the middle" in found["metal-in-path"] and "metal-at-an-angle" not in found


def test_metal_in_the_way_at_a_detent_is_refused_before_it_is_cut() -> None:
    assert "0.121 in past the middle" in said("detent-angle", RING, METAL)["metal-in-path"]
    swung_in = ("swung=open", *RING[1:])
    assert "metal-in-path" not in said("detent-angle", swung_in, METAL)
    assert "metal-in-path" in said("detent-angle", swung_in, METAL | {"metal_back": "1.5"})
    assert "metal-in-path" not in said("detent-angle", RING, {})
