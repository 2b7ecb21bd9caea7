"""`trued moved`: what was really turned."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from tests.cli.calling import RACK, STRIP, Call

INCH = 25.4


@pytest.mark.parametrize(
    ("typed", "rad"),
    [
        ("0.0054", math.atan2(0.0054, 18.0)),  # at the screw, 18 in from the pivot
        ("0.0054in", math.atan2(0.0054, 18.0)),
        ("0.14mm", math.atan2(0.14, 18.0 * INCH)),
        ("1/24turn", math.atan2(1 / 24 / 20, 18.0)),  # of a screw with 20 threads to the inch
        ("0.3mrad", 0.0003),
        ("0.01deg", math.radians(0.01)),
    ],
)
def test_a_length_at_the_screw_its_turns_or_an_angle(trued: Call, book: Path, typed: str, rad: float) -> None:
    answer = trued("moved", "fence-angle", "open", typed, "--book", book, "--json").json
    assert (answer["feature"], answer["direction"], answer["unit"]) == ("sled.fence-angle@0", "open", "rad")
    assert answer["typed"] == typed and answer["amount"] == pytest.approx(rad, rel=1e-9)
    assert list(answer) == ["move", "feature", "direction", "typed", "amount", "unit", "at", "next", "hand"]


def test_what_follows(trued: Call, book: Path) -> None:
    trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00")
    words = ("moved", "sled.fence-angle@0", "open", "0.0105", "--book", book, "--at", "2026-05-04T09:10")
    said = trued(*words)
    assert said.out.startswith(
        "Recorded: left end of the fence away from you, 0.0105 in at the screw.\nNext: trued check five-cut (15 min)\n"
    )
    (standing,) = trued("standing", "--book", book, "--at", "2026-05-04T09:20", "--json").json["standings"]
    assert standing["next"]["do"] == "measure" and standing["decision"] != "proven-out"


def test_a_length_for_what_is_moved_by_a_length(trued: Call, book: Path) -> None:
    answer = trued("moved", "stop-offset", "shorter", "1/64", "--book", book, "--json").json
    assert (answer["unit"], answer["amount"]) == ("mm", pytest.approx(INCH / 64))
    wrong = trued("moved", "stop-offset", "shorter", "0.3mrad", "--book", book, "--json")
    assert wrong.status == 2 and "by a length, not an angle" in wrong.faults[0]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("fence-angle", "up", "0.01"), "is moved open or close"),
        (("fence-angel", "open", "0.01"), "Did you mean fence-angle?"),
        (("kerf", "open", "0.01"), "can't be adjusted"),
        (("fence-angle", "open", "0"), "more than 0"),
        (("fence-angle", "open", "a bit"), "digits"),
        (("wing-step", "up", "1/24turn"), "turns need the thread"),
        (("fence-angle", "open"), "arguments are required"),
        (("tilt-90", "away", "0.0183"), "moves by an angle: type it with its unit, as 0.088deg"),
        (("tilt-90", "away", "1/24turn"), "moves by an angle: type it with its unit, as 0.088deg"),
    ],
)
def test_what_cannot_be_is_refused_and_not_kept(trued: Call, book: Path, words: tuple[str, ...], said: str) -> None:
    wrong = trued("moved", *words, "--book", book, "--json")
    assert wrong.status == 2 and said in wrong.faults[0]
    trued("check", "five-cut", *STRIP, "--book", book)
    assert trued("standing", "--book", book, "--json").json["standings"][0]["next"]["do"] == "move"


def test_a_shop_that_does_not_tell_thread_or_radius(trued: Call, tmp_path: Path) -> None:
    file, book = tmp_path / "shop.toml", tmp_path / "shop.trued"
    file.write_text('[[fixture]]\nid = "sled"\nkind = "crosscut-sled"\n', encoding="utf-8")
    trued("shop", file, "--book", book)
    assert "no radius" in trued("moved", "fence-angle", "open", "0.01", "--book", book, "--json").faults[0]
    assert "no thread" in trued("moved", "fence-angle", "open", "1/8turn", "--book", book, "--json").faults[0]
    assert trued("moved", "fence-angle", "open", "0.5mrad", "--book", book).status == 0


def test_it_needs_a_book(trued: Call, tmp_path: Path) -> None:
    words = ("moved", "fence-angle", "open", "0.01", "--json")
    assert trued(*words).status == 3 and "TRUED_BOOK" in trued(*words).faults[0]
    assert trued(*words, "--book", tmp_path / "none.trued").status == 3
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("typed", ["2", "4deg", "60mm"])
def test_more_than_anybody_turns_is_refused_and_not_kept(trued: Call, book: Path, typed: str) -> None:
    refused = trued("moved", "fence-angle", "open", typed, "--book", book, "--json")
    assert refused.status == 2 and "too much for one move" in refused.faults[0]
    assert trued("withdraw", "--book", book, "--json").json["kept"] == []


def test_what_is_still_to_come_was_not_done_yet(trued: Call, book: Path) -> None:
    for words in (
        ("moved", "fence-angle", "open", "0.01"),
        ("event", "saw-carried"),
        ("check", "five-cut", *STRIP),
        ("proof", RACK, "shelf@1:rule=13.377"),
    ):
        refused = trued(*words, "--book", book, "--at", "2131-01-01T10:00", "--json")
        assert refused.status == 2 and "still to come" in refused.faults[0]
    assert trued("withdraw", "--book", book, "--json").json["kept"] == []


def test_a_tilt_stop_is_moved_by_degrees_as_its_advice_says(trued: Call, book: Path) -> None:
    """What the check tells to type for it can be typed; nothing is asked of a radius that a saw's stop has not."""
    example = ("cycled=yes", "square=light", "gap=0.008", "at=top", "height=2.4")
    out = trued("check", "tilt-90", *example, "--book", book, "--at", "2026-05-04T09:00").out
    assert "trued moved bevel@0 away 0.088deg" in out
    said = trued("moved", "saw.bevel@0", "away", "0.088deg", "--book", book, "--at", "2026-05-04T09:40")
    assert said.out.startswith("Recorded: tilt the top of the blade away from the keeper, 0.088°.")
    answer = trued("moved", "tilt-90", "away", "0.088deg", "--book", book, "--answer", "twice", "--json").json
    assert answer["amount"] == pytest.approx(math.radians(0.088))
