"""One kept run as its page tells it: as it stood when it was taken, and what is believed now."""

from __future__ import annotations

from pathlib import Path

import pytest

from trued.errors import InputRefused
from trued.usecases.book.ready_book import ready_book
from trued.usecases.changes.adjustments import amount_to_type, list_adjustments
from trued.usecases.changes.record_event import record_event
from trued.usecases.changes.record_move import record_move
from trued.usecases.runs.check_form import check_form
from trued.usecases.runs.run_check import run_check
from trued.usecases.runs.run_review import one_run
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import opened
from trued.usecases.standing.standing import what_stands

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
STRIP = ("fence_end=1.0120", "free_end=1.0500", "length=15")
ONE, TWO = "1" * 32, "2" * 32


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A shop in which five cuts were made twice."""
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    for key in (ONE, TWO):
        run_check("five-cut", STRIP, {}, book=path, key=key, answers=("anew",))
    return path


def test_the_first_run_is_told_as_it_stood_then(book: Path) -> None:
    """By hand: 0.038 / (4 × 15) = 0.000633 rad. No pair of runs was known then, and another run came after it."""
    run = one_run(ONE, book)
    assert run.finding is not None and run.drawing is not None
    assert run.finding.estimates[0].value == pytest.approx(0.038 / 60, rel=1e-3)
    assert not run.latest and one_run(TWO, book).latest
    assert run.decided == "proven-out" and run.names["fence-angle"] == "fence angle (sled)"


def test_after_a_move_no_run_is_the_latest(book: Path) -> None:
    record_move("fence-angle", "open", "0.01", book)
    assert not one_run(TWO, book).latest


def test_a_run_that_is_not_there(book: Path) -> None:
    with pytest.raises(InputRefused, match="no such run"):
        one_run("3" * 32, book)


def test_a_run_that_can_no_longer_be_worked_out_says_why(book: Path, tmp_path: Path) -> None:
    """A caliper that, as the shop says now, cannot have read what was typed."""
    shorter = tmp_path / "shop.toml"
    shorter.write_text(SHOP.read_text(encoding="utf-8").replace('range = "8"', 'range = "1/2"'), encoding="utf-8")
    describe_shop(shorter, book)
    run = one_run(ONE, book)
    assert run.finding is None and run.decided is None and run.typed[0].endswith("=1.0120")
    assert "reads to" in run.refused[0]


def test_a_move_and_an_event_are_kept_once_under_their_key(book: Path) -> None:
    for _ in range(2):
        record_move("fence-angle", "open", "0.01", book, key="a" * 32)
        record_event("tilt-used", "", book, key="b" * 32)
    with opened(book) as kept:
        assert len(kept.moves()) == 1 and len(kept.events()) == 1


def test_the_amount_that_is_typed_is_the_move_at_the_screw(book: Path) -> None:
    """In the shop's unit, at its radius of 18 in; typed back it is the move again, to the last digit shown."""
    view = what_stands(book)
    line = next(line for line in view.lines if "fence-angle" in line.standing.feature)
    step = line.standing.next
    assert step is not None and step.amount is not None
    typed = amount_to_type(line.standing)
    assert float(typed) == pytest.approx(step.amount * 18, abs=6e-5)
    move = record_move("fence-angle", step.direction, typed, book)
    assert move.amount == pytest.approx(step.amount, abs=6e-5 / 18)


def test_what_was_found_can_be_turned_first(book: Path) -> None:
    first = list_adjustments(book)[0]
    assert (first.feature, first.directions) == ("sled.fence-angle@0", ("open", "close"))


def test_a_form_knows_the_facts_of_the_book(book: Path) -> None:
    form = check_form("five-cut", book)
    assert {fact.name: fact.value for fact in form.known}["radius"] == "18 in"
    assert form.asked == () and form.fixture == "sled" and form.fixtures == ("sled",)
    with pytest.raises(InputRefused):
        check_form("five-cut", book, "no-such-sled")


def test_a_book_is_made_where_it_may_be(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "er" / "shop.trued"
    assert ready_book(path, make=True) and not ready_book(path, make=True) and not ready_book(path)
    form = check_form("kerf", path)
    assert form.known == () and form.fixture == ""
