"""The same form sent again is the same answer; what differs under its key is asked about, everywhere by one rule."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.errors import Asks
from trued.usecases.changes.record_event import record_event
from trued.usecases.changes.record_move import record_move
from trued.usecases.changes.undo import last_kept, take_back
from trued.usecases.plan.plan_job import plan_job
from trued.usecases.runs.run_check import run_check
from trued.usecases.saved.inspect_parts import prove_job
from trued.usecases.saved.mark_ticket import mark_ticket
from trued.usecases.saved.plan_once import plan_once
from trued.usecases.saved.saved_plan import kept_plan, list_plans
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import opened

EXAMPLES = Path(__file__).parents[2] / "examples"
RACK = (EXAMPLES / "rack.toml").read_text(encoding="utf-8")
STRIP = ("fence_end=1.0120", "free_end=1.0500", "length=15")
KEY = "a" * 32


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "shop.trued"
    describe_shop(EXAMPLES / "shop.toml", path)
    return path


def move(book: Path, n: int, answers: tuple[str, ...] = ()) -> str:
    amount = ("0.0054", "0.0108", "0.0027")[n]
    return record_move("fence-angle", "open" if n == 0 else "close", amount, book, key=KEY, answers=answers).id


def event(book: Path, n: int, answers: tuple[str, ...] = ()) -> str:
    kind = ("saw-carried", "blade-thinner", "tilt-used")[n]
    return record_event(kind, "", book, key=KEY, answers=answers).id


def run(book: Path, n: int, answers: tuple[str, ...] = ()) -> str:
    readings = (*STRIP[:2], f"length={15 + n}")
    kept = run_check("five-cut", readings, {}, book=book, key=KEY, answers=answers).run
    assert kept is not None
    return kept


def parts(book: Path, n: int, answers: tuple[str, ...] = ()) -> str:
    kept = prove_job(RACK, [f"shelf@{1 + n}:rule=13.377"], book=book, key=KEY, answers=answers).run
    assert kept is not None
    return kept


EVERY = pytest.mark.parametrize("send", [move, event, run, parts])
Send = Callable[..., str]


def ids(book: Path) -> list[str]:
    return [one.id for one in last_kept(book) if one.kind != "answer"]


@EVERY
def test_the_same_sent_again_is_kept_once(send: Send, book: Path) -> None:
    assert send(book, 0) == send(book, 0) == KEY and ids(book) == [KEY]


@EVERY
def test_something_else_under_the_key_is_asked_about_and_not_thrown_away(send: Send, book: Path) -> None:
    """Before, a second move, event or measured part under the key was acknowledged and thrown away."""
    send(book, 0)
    with pytest.raises(Asks) as asks:
        send(book, 1)
    (question,) = asks.value.questions
    assert question.code == "form-again" and [word for word, _ in question.choices] == ["another", "instead"]
    assert ids(book) == [KEY], "nothing is kept while it is asked"
    other = send(book, 1, ("another",))
    assert set(ids(book)) == {KEY, other} and other != KEY
    assert send(book, 1) == send(book, 1, ("another",)) == other, "and that one, sent again, is kept once too"
    with pytest.raises(Asks):
        send(book, 2)


@EVERY
def test_a_slip_is_replaced_and_keeps_its_time(send: Send, book: Path) -> None:
    send(book, 0)
    (first,) = last_kept(book)
    better = send(book, 1, ("form-again=instead",))
    (stands,) = last_kept(book)
    assert (stands.id, stands.at) == (better, first.at)
    assert send(book, 1) == better
    with pytest.raises(Asks):
        send(book, 0)
    third = send(book, 2, ("instead",))
    assert ids(book) == [third], "a slip in the mend is mended the same way"


@EVERY
def test_what_was_taken_back_is_not_said_to_be_kept(send: Send, book: Path) -> None:
    """Before, the same form again was acknowledged while nothing of it counted."""
    send(book, 0)
    take_back(KEY, book)
    with pytest.raises(Asks, match="You took this back"):
        send(book, 0)
    again = send(book, 0, ("another",))
    assert ids(book) == [again]
    assert send(book, 0) == again
    take_back(again, book)
    assert send(book, 1) not in (KEY, again), "what was typed right after it was taken back is kept at once"
    assert len(ids(book)) == 1


def test_facts_tell_one_run_from_another(book: Path) -> None:
    """The same figures at another angle are another run."""
    parts = ("measured@4=4.005", "measured@7=7.006")
    run_check("stop-scale", parts, {"angle": "0"}, book=book, key=KEY)
    assert run_check("stop-scale", parts, {"angle": "0"}, book=book, key=KEY).run == KEY
    with pytest.raises(Asks):
        run_check("stop-scale", parts, {"angle": "45", "swing": "closed"}, book=book, key=KEY)


def test_a_key_that_was_used_for_another_kind_of_thing(book: Path) -> None:
    move(book, 0)
    with pytest.raises(Asks) as asks:
        event(book, 0)
    assert [word for word, _ in asks.value.questions[0].choices] == ["another"]
    event(book, 0, ("another",))
    assert {one.kind for one in last_kept(book)} == {"move", "event"}


def test_taking_back_twice_is_once_and_says_the_same(book: Path) -> None:
    move(book, 0)
    told = [take_back(KEY, book, key="b" * 32) for _ in range(2)]
    assert told[0] == told[1] and told[0].id == KEY
    other = event(book, 1, ("another",))
    with pytest.raises(Asks):
        take_back(other, book, key="b" * 32)
    assert ids(book) == [other]
    assert take_back(other, book, key="b" * 32, answers=("another",)).kind == "event"
    assert ids(book) == []


def test_a_mark_that_arrives_again_after_another_changes_nothing(book: Path) -> None:
    """A phone sends *Done* twice; in between it was said that the cut was not done after all."""
    plan = plan_job(RACK, book=book, kerf="0.094").kept
    ticket = kept_plan(plan, book).tickets[0].id
    assert mark_ticket(plan, ticket, book, what="done", key=KEY)
    assert mark_ticket(plan, ticket, book, what="undone", key="b" * 32)
    assert not mark_ticket(plan, ticket, book, what="done", key=KEY)
    with opened(book) as kept:
        assert kept.done(plan) == ()
    with pytest.raises(Asks):
        mark_ticket(plan, ticket, book, what="undone", key=KEY)
    assert mark_ticket(plan, ticket, book, what="done", key="c" * 32)


def test_another_job_under_the_key_is_another_plan_with_sheets_of_its_own(book: Path) -> None:
    def plan(text: str, kerf: str | None = "0.094", answers: tuple[str, ...] = ()) -> str:
        place = book.parent
        return plan_once(text, kerf, book, KEY, seconds=5.0, out=lambda id: place / id[:8], answers=answers)

    first = plan(RACK)
    assert plan(RACK) == plan(RACK, "0.094 in") == KEY == first
    smaller = RACK.replace('length = "30"', 'length = "29"')
    for text, kerf in ((smaller, "0.094"), (RACK, "0.1"), (RACK, None)):
        with pytest.raises(Asks) as asks:
            plan(text, kerf)
        assert [word for word, _ in asks.value.questions[0].choices] == ["another"]
    second = plan(smaller, answers=("another",))
    assert plan(smaller) == second and {line.id for line in list_plans(book)} == {first, second}
    assert (book.parent / first[:8]).is_dir() and (book.parent / second[:8]).is_dir()


def test_a_move_replaced_lies_where_the_slip_lay(book: Path) -> None:
    """Turned, then measured, then the move is corrected: it still lies before the run."""
    at = datetime.now(UTC) - timedelta(hours=1)
    record_move("fence-angle", "open", "0.0054", book, key=KEY, at=at)
    run_check("five-cut", STRIP, {}, book=book, at=at + timedelta(minutes=20))
    record_move("fence-angle", "close", "0.0054", book, key=KEY, answers=("instead",))
    with opened(book) as kept:
        (stands,) = kept.moves()
        assert (stands.at, stands.direction) == (at, "close")
