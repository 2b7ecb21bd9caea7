"""What `trued check` says of a run: the whole text of each verdict, its budget of words, and what must never be lost.

The texts are a pattern of the page of wording; their numbers are the program's, and are held elsewhere.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.cli.calling import Call
from tests.words.user_text import faults

from trued.usecases.shop.list_checks import list_checks

FIRST_LINE = re.compile(r"^.+: (IN TOLERANCE|OUT OF TOLERANCE|NOT KNOWN YET|BAD RUN|RECHECK|MEASURED)\b")
TIGHT = ("fence_end=1.0120", "fence_end=1.0125", "free_end=1.0420", "free_end=1.0425", "length=15")
TRUE = ("fence_end=1.0120", "fence_end=1.0125", "free_end=1.0125", "free_end=1.0130", "length=15")
NEAR = ("fence_end=1.0120", "fence_end=1.0125", "free_end=1.0220", "free_end=1.0225", "length=15")
BOWED = ("fence_end=1.0120", "middle=1.0400", "free_end=1.0220", "length=15")

AT_TEN = ("--at", "2026-05-04T10:00", "--answer", "typed")

OUT = """\
Five-cut: OUT OF TOLERANCE

Move the left end of the fence away from you, 0.0085 in at the screw.
  WARNING  Saw unplugged, blade stopped, before you reach for the fence.
  1. At the screw, clamp a block behind the fence. Put feelers 0.007 + 0.0015 between them.
  2. Pull the feelers. Loosen the fence, push it to the block, lock it.
  3. Bring the screw up to the fence. No feelers? About 3/16 of a turn (61°).
Record it:  trued moved fence-angle open 0.0085
Then cut all five again (15 min).
[warnings]

Fence angle  0.0060 in/ft tight, ±0.0020 (0.029°)    limit ±0.0024
Not checked: bar play, fence straightness, fence face. Do bar play first.
Saved. Why: --more    Undo: trued undo [id]
"""
IN = """\
Five-cut: IN TOLERANCE. Leave it.

Fence angle  0.0002 in/ft tight, ±[u] (0.0012°)    limit ±0.0024    over 99% sure
Check again after [when].
Not checked: bar play, fence straightness, fence face. Do bar play first.
Saved. Why: --more    Undo: trued undo [id]
"""
NOT_KNOWN = """\
Five-cut: NOT KNOWN YET. Don't adjust.

Cut all five again, same setup (15 min).
[warnings]

Fence angle  0.0020 in/ft tight, ±0.0020 (0.010°)    limit ±0.0024
69% likely in (repeatability assumed).
Not saved: no shop book (--book or TRUED_BOOK). Why: --more
"""


def masked(text: str) -> str:
    """The text without the check's own warnings, which are held in its own test, and without ids and dates."""
    own = [caution for check in list_checks() for caution in check.cautions]
    lines, inside = [], False
    for line in text.splitlines():
        if line.startswith("  WARNING  ") and any(caution.startswith(line[11:]) for caution in own):
            lines += [] if inside else ["[warnings]"]
            inside = True
        elif not (inside and line.startswith("      ")):
            inside = False
            lines.append(line)
    joined = re.sub(r"undo [0-9a-f]{8}", "undo [id]", "\n".join(lines))
    joined = re.sub(r"again after .*\.", "again after [when].", joined)
    return f"{joined}\n"


def words(text: str) -> int:
    """Words without those of warnings, to which the budget yields."""
    return len(re.sub(r" *WARNING .*(\n      .*)*", "", text).split())


def test_out_with_a_book(trued: Call, book: Path) -> None:
    said = trued("check", "five-cut", *TIGHT, "--book", book)
    assert said.status == 0 and masked(said.out) == OUT
    assert words(said.out) <= 130


def test_how_a_move_is_made_is_told_until_one_was_recorded(trued: Call, book: Path) -> None:
    trued("check", "five-cut", *TIGHT, "--book", book, "--at", "2026-05-04T09:00")
    trued("moved", "fence-angle", "open", "0.0010", "--book", book, *AT_TEN)
    later = (*TIGHT[:2], "free_end=1.0387", "free_end=1.0392", "length=15")
    said = trued("check", "five-cut", *later, "--book", book, "--at", "2026-05-04T11:00", "--more", "--answer", "anew")
    front, _, behind = said.out.partition("\nWhy\n")
    assert said.status == 0 and "Record it:" in front and "1. At the screw" not in front
    assert "clamp a block" in behind
    assert words(front) <= 75


def test_in_tolerance(trued: Call, book: Path) -> None:
    for hour in ("09", "11"):
        said = trued("check", "five-cut", *TRUE, "--book", book, "--at", f"2026-05-04T{hour}:00", "--answer", "anew")
    assert re.sub(r"±0\.00\d\d \(0\.00\d+°\)", "±[u] (0.0012°)", masked(said.out)).startswith(IN.partition("Fence")[0])
    assert "over 99% sure" in said.out and "trued moved" not in said.out
    assert words(said.out) <= 50


def test_not_known_yet_without_a_book(trued: Call) -> None:
    said = trued("check", "five-cut", *NEAR)
    assert masked(said.out) == NOT_KNOWN
    assert words(said.out) <= 65


def test_a_bad_run_orders_no_move(trued: Call, book: Path) -> None:
    said = trued("check", "five-cut", *BOWED, "--book", book)
    assert said.out.startswith("Five-cut: BAD RUN. Don't adjust.\n")
    assert "trued moved" not in said.out and "Move the" not in said.out
    assert re.search(r"Saved as a bad run\. Drop it: trued undo [0-9a-f]{8}", said.out)
    assert "trued confirm" in said.out
    assert words(said.out) <= 80  # 70 once the check's own sentences are short


def test_a_metric_shop(trued: Call) -> None:
    """0.0005 rad × 457 mm = 0.23 mm at the screw; 300 × 0.0005 = 0.15."""
    strip = ("fence_end=25.70", "fence_end=25.71", "free_end=26.46", "free_end=26.47", "length=380")
    said = trued("check", "five-cut", *strip, "--unit", "mm", "--radius", "457", "--fence", "far", "--keeper", "left")
    assert "Move the left end of the fence away from you, 0.23 mm at the screw." in said.out
    assert re.search(r"Fence angle  0\.15 mm/300 mm tight, ±0\.0\d \(0\.029°\)    limit ±0\.06\n", said.out)


@pytest.mark.parametrize("check", list_checks(), ids=lambda check: check.id)
def test_every_example_begins_with_its_verdict_and_keeps_its_warnings(trued: Call, check) -> None:  # type: ignore[no-untyped-def]
    said = trued("check", check.id, *check.example.words)
    assert said.status == 0, said.err
    assert FIRST_LINE.match(said.out.splitlines()[0])
    flat = " ".join(said.out.split())
    if "\n  1. " in said.out or "Then run " in flat:  # something is moved or fixed
        assert all(f"WARNING {' '.join(caution.split())}" in flat for caution in check.cautions)
        assert "before you reach" in flat
    assert " safe" not in flat.replace("is safe", " safe")
    assert all(len(line) <= 100 for line in said.out.splitlines())


def test_more_repeats_the_default_text_first(trued: Call) -> None:
    short, long = trued("check", "five-cut", *TIGHT).out, trued("check", "five-cut", *TIGHT, "--more").out
    assert long.startswith(short.rstrip("\n"))
    assert "Uncertainty budget" in long and "95% interval" in long


def test_the_texts_keep_the_rules_of_wording() -> None:
    for text in (OUT, IN, NOT_KNOWN):
        assert list(faults(text)) == []
