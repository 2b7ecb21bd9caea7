"""Out on a named side, or not known: nothing is ordered while the way is not known."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.calling import RACK, Call

PERFECT = ("measured@12.891:rule=12.891", "measured@13.375:rule=13.375", "measured@13.376:rule=13.375")


def test_parts_as_wanted_at_two_settings_close_together_are_not_out(trued: Call, book: Path) -> None:
    """Two settings 0.48 in apart say next to nothing of the scale's zero: +0.01 in, give or take 0.2 in."""
    answer = trued("check", "stop-scale", *PERFECT, "--angle", "0", "--book", book, "--strict", "--json")
    assert answer.status == 0
    offset, slope = answer.json["estimates"]
    assert offset["chance_in"] < 0.05 and slope["chance_in"] < 0.05
    for one in (offset, slope, *answer.json["standing"]):
        assert (one["decision"], one["side"]) == ("not-proven", None)
    assert answer.json["moves"] == []
    assert all(one["next"]["do"] in ("measure", "leave") for one in answer.json["standing"])
    out = trued("standing", "--book", book).out
    assert "Not known yet" in out and "Out of tolerance" not in out
    assert "Record it" not in out and "cursor" not in out


def test_the_parts_of_a_planned_rack_typed_as_they_should_be_order_nothing(trued: Call, book: Path) -> None:
    assert trued("plan", RACK, "--book", book, "--at", "2026-05-04T09:00").status == 0
    parts = ("shelf@1:rule=13.375", "shelf@2:rule=13.375", "rail@1:rule=12.891")
    answer = trued("proof", RACK, *parts, "--book", book, "--json", "--at", "2026-05-04T15:00").json
    assert answer["standing"] and all(one["decision"] != "proven-out" for one in answer["standing"])
    assert all(one["next"] is None or one["next"]["do"] != "move" for one in answer["standing"])
    assert trued("standing", "--book", book, "--strict", "--at", "2026-05-04T16:00").status == 0


def test_a_far_scale_is_out_on_its_side(trued: Call, book: Path) -> None:
    long = ("measured@6:caliper=6.031", "measured@2:caliper=2.030", "measured@7.5:caliper=7.531")
    offset = trued("check", "stop-scale", *long, "--angle", "0", "--book", book, "--json").json["estimates"][0]
    assert (offset["decision"], offset["side"]) == ("proven-out", "above")
    out = trued("standing", "--more", "--book", book).out
    assert "Out of tolerance  stop scale offset" in out and " in parts long, " in out


def test_a_new_blade_puts_the_shift_at_one_setting_in_doubt_too(trued: Call, book: Path) -> None:
    """The zero of the scale moved with the blade: what was found at one setting moved as well."""
    parts = ("set=6", "part=6.020", "part=6.021", "part=6.020", "part=6.019", "part=6.020")
    trued("check", "stop-repeat", *parts, "--book", book, "--at", "2026-05-04T09:00")
    trued("event", "blade-thinner", "--book", book, "--at", "2026-05-04T10:00")
    found = trued("standing", "--book", book, "--json", "--at", "2026-05-04T11:00").json["standings"]
    moved = [one for one in found if one["feature"] == "sled.stop-offset@0"]
    assert moved and all(one["stale"] and one["decision"] == "not-proven" for one in moved)


def test_every_surface_orders_the_same_amount(trued: Call, book: Path) -> None:
    """The check's own full move stood in `moves` beside the cautious one that the terminal and the page order."""
    words = ("check", "five-cut", "fence_end=0.800", "free_end=0.838", "length=13", "--book", book)
    answer = trued(*words, "--at", "2026-11-30T09:00", "--json").json
    step = next(s["next"] for s in answer["standing"] if s["feature"] == "sled.fence-angle@0")
    (move,) = answer["moves"]
    assert move["hand"] == step["hand"] and move["text"] == step["text"] and move["direction"] == step["direction"]
    assert move["amount_mm"] == pytest.approx(step["hand"]["value"] * 25.4)
    alone = trued(*words[:5], "--fence", "far", "--keeper", "left", "--radius", "18", "--json").json["moves"]
    assert alone and alone[0]["amount_mm"] > 0
