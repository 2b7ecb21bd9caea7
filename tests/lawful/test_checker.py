"""The checker itself: it knows nothing of the product, lets a lawful plan through, and sees each hard rule broken."""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.lawful.balance import Box, chord, inside_ring, ring
from tests.lawful.checker import broken
from tests.lawful.shopfile import MM, inches, pounds

HERE = Path(__file__).parent
SHOP = """
unit = "in"
[saw]
table = { left = "12", operator = "11", far = "11", right = "22 3/4" }
rip = "22 1/4"
least_rip = "12"
max_cut = { "90" = "2.85" }
knife = "0.083"
knife_behind = "1/2"
largest_blade = "9 1/2"
speed = "4000"
arbor = "5/8"
maker_forbids = []
[blade]
plate = "0.067"
kerf = "0.094"
diameter = "9 1/2"
max_speed = "7000"
bore = "5/8"
[[fixture]]
id = "sled"
kind = "crosscut-sled"
fence = "far"
keeper = "left"
crosscut = "14"
size = ["22", "18"]
base = "1/2"
weight = "9 lb"
centre = "8"
"""
KNOWN = dict.fromkeys(
    ("blade-parallel", "knife", "knife-over-plate", "knife-under-kerf", "rip-toe", "rip-fence-angle"), "in"
)


def ticket(id: str, station: str, run: str, size: tuple[float, float], at: float, **more: Any) -> dict[str, Any]:
    length, width = size
    base = 0.5 if station == "sled" else 0.0
    work = {"length_mm": length * MM, "width_mm": width * MM, "thickness_mm": 0.75 * MM, "run": run, "at_mm": at * MM}
    on_saw = station in ("sled", "rip fence")
    return {
        "id": id, "station": station, "piece": "B/1", "parts": [], "after": [], "work": work, "wanted_mm": at * MM,
        "setting_mm": at * MM, "scale_text": f"{at}", "waits": None, "unchecked": [],
        "blade_mm": (base + 1.0) * MM if on_saw else None,
        "before": ["Set the blade up."] if on_saw else [], **more,
    }  # fmt: skip


def lawful() -> dict[str, Any]:
    """A board of 20 × 5: an end squared, 16 in kept, then ripped to 3."""
    order = [
        ticket("T1", "sled", "across", (20, 5), 16),
        ticket("T2", "rip fence", "along", (16, 5), 3),
    ]
    order[1]["before"].append("Push block with a heel, held down to the end.")
    return {
        "order": order, "problems": [], "kerf": {"mm": 0.094 * MM}, "not_made": [],
        "parts": [{"id": "leg", "length_mm": 16 * MM, "width_mm": 3 * MM}],
        "layout": {"stock": [{"id": "B", "copy": 1, "material": "pine", "length": 20 * MM, "width": 5 * MM,
                              "placements": [{"part": "leg", "copy": 1}]}]},
    }  # fmt: skip


def test_a_lawful_plan_passes() -> None:
    assert broken(lawful(), SHOP, KNOWN) == []


def test_without_a_shop_there_is_no_ticket() -> None:
    assert broken(lawful(), None) == ["tickets though no shop is known"]
    assert broken(lawful() | {"order": []}, None) == []


def thick(plan: dict[str, Any]) -> None:
    plan["order"][0]["work"]["thickness_mm"] = 2.5 * MM


def low(plan: dict[str, Any]) -> None:
    plan["order"][1]["blade_mm"] = 0.8 * MM


def short_keeper(plan: dict[str, Any]) -> None:
    one = plan["order"][0]
    one["work"] |= {"length_mm": 10 * MM, "at_mm": 4 * MM}
    one["wanted_mm"] = 4 * MM


def long_tail(plan: dict[str, Any]) -> None:
    plan["order"][0]["work"]["length_mm"] = 60 * MM


def long_keeper(plan: dict[str, Any]) -> None:
    one = plan["order"][0]
    one["work"] |= {"length_mm": 120 * MM, "at_mm": 100 * MM}
    one["wanted_mm"] = 100 * MM


def long_rip(plan: dict[str, Any]) -> None:
    plan["order"][1]["work"]["length_mm"] = 60 * MM


def short_rip(plan: dict[str, Any]) -> None:
    plan["order"][1]["work"]["length_mm"] = 11 * MM


def wide_rip(plan: dict[str, Any]) -> None:
    plan["order"][1]["work"]["width_mm"] = 17 * MM


def no_words(plan: dict[str, Any]) -> None:
    plan["order"][1]["before"] = []


def waits_with_number(plan: dict[str, Any]) -> None:
    plan["order"][1]["waits"] = "the widest rip"


def nothing_lies_there(plan: dict[str, Any]) -> None:
    plan["order"][1]["work"]["width_mm"] = 4 * MM


def part_lost(plan: dict[str, Any]) -> None:
    plan["order"].pop()


def on_the_floor(plan: dict[str, Any]) -> None:
    plan["order"][0]["station"] = "guided saw"
    thick(plan)


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (thick, "too thick"),
        (low, "blade height is not ordered"),
        (short_keeper, "held by hand"),
        (long_tail, "nothing under it"),
        (long_keeper, "sled and work tip"),
        (long_rip, "end of the rip tips"),
        (short_rip, "the least is 12"),
        (wide_rip, "wider than long"),
        (no_words, "no first word on the height"),
        (waits_with_number, "has its number"),
        (nothing_lies_there, "no piece of"),
        (part_lost, "no piece of its size lies there"),
        (on_the_floor, "than a guided saw cuts"),
    ],
)
def test_a_plan_that_breaks_a_rule_is_seen(spoil: Callable[[dict[str, Any]], None], said: str) -> None:
    plan = copy.deepcopy(lawful())
    spoil(plan)
    assert any(said in fault for fault in broken(plan, SHOP, KNOWN)), broken(plan, SHOP, KNOWN)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('knife = "0.083"', 'knife = "0.1"', "as thick as the kerf"),
        ('knife = "0.083"', 'knife = "0"', "no riving knife"),
        ('knife = "0.083"', 'knife = "0.06"', "no thicker than the plate"),
        ('diameter = "9 1/2"', 'diameter = "12"', "larger than the saw takes"),
        ('max_speed = "7000"', 'max_speed = "3000"', "turns faster"),
        ('bore = "5/8"', 'bore = "30mm"', "bore"),
        ("maker_forbids = []", 'maker_forbids = ["crosscut-sled"]', "forbids the sled"),
        ("maker_forbids = []", 'maker_forbids = ["sled-without-guard"]', "no guard is known"),
        ('base = "1/2"', 'base = "1/2"\npivot_beside = "2"\nmetal_end = "1.9"', "metal stands"),
        ('max_cut = { "90" = "2.85" }', "", "does not wait for it"),
        ('weight = "9 lb"\n', "", "does not wait for it"),
        ('rip = "22 1/4"', 'rip = "2"', "wider than the fence opens"),
    ],
)
def test_a_shop_that_does_not_allow_it_is_seen(old: str, new: str, said: str) -> None:
    assert old in SHOP
    found = broken(lawful(), SHOP.replace(old, new), KNOWN)
    assert any(said in fault for fault in found), found


@pytest.mark.parametrize("feature", KNOWN)
def test_what_is_out_or_was_never_checked_is_seen(feature: str) -> None:
    out = broken(lawful(), SHOP, KNOWN | {feature: "out"})
    assert any(f"{feature} is out" in fault for fault in out)
    never = broken(lawful(), SHOP, {name: word for name, word in KNOWN.items() if name != feature})
    assert any("never checked" in fault for fault in never)
    assert any("blade event" in fault for fault in broken(lawful(), SHOP, KNOWN | {"after-blade": "yes"}))


def test_kerf_that_is_used_counts_and_not_only_the_marked_one() -> None:
    typed = lawful() | {"kerf": {"mm": 0.08 * MM}}
    assert any("as thick as the kerf" in fault for fault in broken(typed, SHOP, KNOWN))
    wide = lawful() | {"kerf": {"mm": 0.12 * MM}}
    thin = SHOP.replace('knife = "0.083"', 'knife = "0.1"')
    assert any("as thick as the kerf" in fault for fault in broken(wide, thin, KNOWN))  # typing a kerf lifts no ban


def test_own_sums_of_circle_and_outline() -> None:
    """A blade of radius 5 that stands 1.453 up: the teeth at 1/2 up lie 2.936 from the arbor."""
    assert chord(5, 1.453, 0.5) == pytest.approx(2.936, abs=5e-4)
    square = ring([(0, 0), (4, 0), (4, 4), (0, 4), (2, 2), (2, 0)])
    assert inside_ring(square, (1, 2)) == pytest.approx(1.0) and inside_ring(square, (5, 2)) == pytest.approx(-1.0)
    assert Box(0, 4, 0, 4).meet(Box(3, 9, -1, 1)) == Box(3, 4, 0, 1)
    assert (inches("22 3/4"), inches("254mm"), pounds("9 lb")) == pytest.approx((22.75, 10.0, 9.0))


def test_the_checker_imports_nothing_of_the_product() -> None:
    for name in ("balance", "checker", "replay", "shopfile"):
        for node in ast.walk(ast.parse((HERE / f"{name}.py").read_text(encoding="utf-8"))):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            assert not [one for one in names if one.split(".")[0] == "trued"], name
