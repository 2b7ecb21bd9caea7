"""The saw or the measuring, as the command line and the page get it."""

from __future__ import annotations

from pathlib import Path

import pytest

from trued.usecases.changes.record_move import record_move
from trued.usecases.runs.error_cause import cause_said
from trued.usecases.runs.run_check import run_check
from trued.usecases.runs.run_review import one_run
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.list_checks import one_check

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
OUT, AGAIN = ("fence_end=0.702", "free_end=0.723", "length=10.5"), ("fence_end=0.655", "free_end=0.672", "length=10.5")
NEAR = ("fence_end=0.688", "free_end=0.685", "length=10.5")


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    return path


def test_without_a_book_one_run_speaks() -> None:
    """0.021 in over 4 × 10.5 in is 0.5 mrad, ten times the usual seating; 0.003 in is what a caliper may do."""
    out, near = run_check("five-cut", OUT, {}), run_check("five-cut", NEAR, {})
    assert out.cause is not None and out.cause.cause == "the saw" and "one run" in out.cause.text
    assert near.cause is not None and near.cause.cause == "your measuring"
    assert "read each spot 2 times as often" in cause_said(near.cause, ())


def test_with_a_book_all_untouched_runs_speak(book: Path) -> None:
    run_check("five-cut", OUT, {}, book=book, answers=("anew",))
    second = run_check("five-cut", AGAIN, {}, book=book, answers=("anew",))
    assert second.cause is not None and "2 untouched runs agree" in second.cause.text
    assert one_run(second.run or "", book).cause == second.cause


def test_what_was_found_before_a_move_is_not_counted(book: Path) -> None:
    for typed in (OUT, AGAIN):
        run_check("five-cut", typed, {}, book=book, answers=("anew",))
    record_move("sled.fence-angle@0", "open", "0.003in", book)
    after = run_check("five-cut", OUT, {}, book=book, answers=("anew",))
    assert after.cause is not None and "one run" in after.cause.text


def test_an_older_run_says_nothing_of_it(book: Path) -> None:
    first = run_check("five-cut", OUT, {}, book=book, answers=("anew",))
    run_check("five-cut", AGAIN, {}, book=book, answers=("anew",))
    assert one_run(first.run or "", book).cause is None


def test_nothing_is_said_of_what_is_true_or_doubtful(book: Path) -> None:
    for end in ("0.7001", "0.7002", "0.7000"):
        last = run_check(
            "five-cut", ("fence_end=0.7000", f"free_end={end}", "length=15"), {}, book=book, answers=("anew",)
        )
    assert last.standings[0].decision == "proven-in" and last.cause is None
    assert run_check("five-cut", ("fence_end=0.700", "free_end=0.950", "length=10.5"), {}).cause is None


def test_no_other_advice_beside_a_turn(book: Path) -> None:
    seen = run_check(
        "five-cut", ("fence_end=0.700", "free_end=0.7055", "length=10.5"), {}, book=book, answers=("anew",)
    )
    assert seen.cause is not None and seen.cause.cause == "not known yet"
    assert seen.cause.cheapest and seen.cause.cheapest in cause_said(seen.cause, ())
    assert seen.standings[0].next is not None and seen.standings[0].next.do == "measure"  # which says the same
    assert seen.cause.cheapest not in cause_said(seen.cause, seen.standings)
    turned = run_check("five-cut", OUT, {}, book=book, answers=("anew",)).standings
    assert turned[0].next is not None and turned[0].next.do == "move"
    assert seen.cause.cheapest not in cause_said(seen.cause, turned)


def test_the_number_is_named_and_said_what_it_is() -> None:
    """By hand: 0.004 in over 7 in is 0.0069 in/ft; -0.004 in over 7 in to 0 is allowed, of which the middle is
    -0.0034 in/ft: 0.0103 from it. A number that was found nowhere needs its name."""
    words = one_check("blade-parallel").example.given
    out = run_check("blade-parallel", words, {})
    assert out.cause is not None
    said = "Blade-to-slot angle: one run shows 0.0103 in/ft from the middle of what is allowed, -0.0034 in/ft, more"
    assert said in cause_said(out.cause, ())
    fence = run_check("five-cut", OUT, {}).cause
    assert fence is not None and "Fence angle: one run shows 0.0060 in/ft off, more" in cause_said(fence, ())


def test_no_error_is_nobody_s_fault(book: Path) -> None:
    """What reading alone can do is no blame."""
    near = run_check("five-cut", NEAR, {}, book=book, answers=("anew",))
    assert near.cause is not None and near.cause.cause == "your measuring"
    said = cause_said(near.cause, near.standings)
    assert said.startswith("No saw error seen. Your measuring can explain it. Fence angle: ")
    assert said.startswith("No saw error seen.")
