"""`trued event`: what happened, and what it makes doubtful."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.calling import STRIP, Call

KINDS = [
    *("saw-carried", "blade-same-kerf", "blade-thinner", "blade-thicker", "blade-realigned", "tilt-used"),
    *("facing-renewed", "bar-adjusted", "screw-touched", "detent-loosened", "scale-moved", "wing-touched"),
    *("sled-stored", "humidity-swing", "caliper-dropped"),
]


def test_help_lists_the_fifteen_kinds_in_their_order(trued: Call, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as done:
        trued("event", "--help")
    listed = capsys.readouterr().out.partition("kinds:\n")[2].splitlines()
    assert done.value.code == 0
    assert [line.split()[0] for line in listed] == KINDS
    assert all(len(line.split()) > 2 and len(line) <= 100 for line in listed)


def test_what_was_found_is_in_doubt_after_it(trued: Call, book: Path) -> None:
    trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00")
    answer = trued("event", "saw-carried", "--book", book, "--at", "2026-05-04T10:00", "--json").json
    assert list(answer) == ["event", "kind", "subject", "at", "stale", "stale_text", "good_text", "cautions"]
    assert answer["stale"] == ["sled.fence-angle@0"] and answer["at"].startswith("2026-05-04T")
    assert answer["cautions"] == ["Check knife and rip fence toe before any rip."]
    said = trued("event", "bar-adjusted", "sled", "--book", book, "--at", "2026-05-04T11:00")
    assert "Recorded: Bar adjusted (sled)." in said.out
    assert "In your shop: fence angle." in said.out
    (standing,) = trued("standing", "--book", book, "--at", "2026-05-04T12:00", "--json").json["standings"]
    assert len(standing["stale"]) == 2 and standing["decision"] == "not-proven"


def test_what_another_thing_suffered_leaves_this_one_alone(trued: Call, book: Path) -> None:
    trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00")
    answer = trued("event", "wing-touched", "wing", "--book", book, "--at", "2026-05-04T10:00", "--json").json
    assert answer["stale"] == []
    other = trued("event", "tilt-used", "--book", book, "--at", "2026-05-04T10:30", "--json").json
    assert other["stale"] == [] and other["cautions"] == []


def test_kinds_and_subjects_that_are_not_known(trued: Call, book: Path) -> None:
    kind = trued("event", "saw-caried", "--book", book, "--json")
    assert kind.status == 2 and "Did you mean saw-carried?" in kind.faults[0]
    subject = trued("event", "screw-touched", "sledd", "--book", book, "--json")
    assert subject.status == 2 and "Did you mean sled?" in subject.faults[0]
    other = trued("event", "saw-carried", "sled", "--book", book, "--json")
    assert other.status == 2 and "can't have had that" in other.faults[0]
    assert trued("event", "saw-carried", "--json").status == 3


THINNER = """\
Recorded: New blade, thinner kerf.

WARNING  Don't cut. The knife may be thicker than the new kerf. It must be thicker than the plate
    and thinner than the kerf. Check it now.
  Check it now: trued check knife (6 min)
Recheck: kerf, stop scale, cut line, knife fit and height; zero-clearance slots too wide.
Still good: fence angle, detents.
Undo: trued undo """


def test_a_thinner_blade_is_warned_of_before_any_cut(trued: Call, book: Path) -> None:
    said = trued("event", "blade-thinner", "--book", book).out
    assert said.startswith(THINNER) and len(said.split()) <= 75


@pytest.mark.parametrize("kind", KINDS)
def test_every_event_says_what_to_recheck_and_what_is_still_good(trued: Call, book: Path, kind: str) -> None:
    said = trued("event", kind, "--book", book).out
    assert said.startswith("Recorded: ") and "\nRecheck: " in said and "\nStill good: " in said
    assert len(said.split()) <= 75
