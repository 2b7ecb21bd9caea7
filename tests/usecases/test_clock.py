"""A clock that jumps: what cannot be right in time is told and asked, and the order is mended."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from trued.errors import Asks, InputRefused
from trued.usecases.changes.answer import answer, confirm
from trued.usecases.changes.record_event import record_event
from trued.usecases.changes.record_move import record_move
from trued.usecases.changes.undo import last_kept, take_back
from trued.usecases.runs.run_check import run_check
from trued.usecases.saved.inspect_parts import prove_job
from trued.usecases.shop import shop_now
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import opened
from trued.usecases.standing.standing import what_stands

EXAMPLES = Path(__file__).parents[2] / "examples"
STRIP = ("fence_end=1.0120", "free_end=1.0500", "length=15")
FENCE = "sled.fence-angle@0"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "shop.trued"
    describe_shop(EXAMPLES / "shop.toml", path)
    return path


def later(**by: float) -> datetime:
    return datetime.now(UTC) + timedelta(**by)


def five(book: Path, at: datetime | None = None, answers: tuple[str, ...] = ()) -> str:
    run = run_check("five-cut", STRIP, {}, book=book, at=at, answers=answers).run
    assert run is not None
    return run


def order(book: Path) -> list[str]:
    """The kinds of what stands, the oldest first."""
    return [one.kind for one in reversed(last_kept(book)) if one.kind != "answer"]


def test_a_clock_set_back_between_a_run_and_its_move_is_asked_about(book: Path) -> None:
    """Before, the standing said *move* again: the screw was turned twice."""
    five(book, later(hours=2))  # the clock was two hours ahead then
    with pytest.raises(Asks) as asks:
        record_move("fence-angle", "open", "0.0105", book)
    (question,) = asks.value.questions
    assert question.code == "clock-back" and "five-cut" in question.text
    assert order(book) == ["run"], "nothing is kept while it is asked"
    record_move("fence-angle", "open", "0.0105", book, answers=("rows",))
    assert order(book) == ["run", "move"]
    (line,) = [one for one in what_stands(book).lines if one.standing.feature == FENCE]
    assert line.standing.next is None or line.standing.next.do != "move"


def test_where_this_clock_is_behind_nothing_is_kept_until_it_is_set(book: Path) -> None:
    five(book, later(hours=2))
    for send in (
        lambda: record_move("fence-angle", "open", "0.0105", book, answers=("clock",)),
        lambda: record_event("saw-carried", "", book, answers=("clock-back=clock",)),
        lambda: five(book, answers=("clock",)),
    ):
        with pytest.raises(InputRefused, match="clock right"):
            send()
    assert order(book) == ["run"]
    told = later(hours=3)
    assert record_move("fence-angle", "open", "0.0105", book, at=told).at == told, "a time that is told stands"


def test_what_was_found_in_the_future_is_not_gone_without_a_word(book: Path) -> None:
    """Before, a run 40 days ahead left *never checked here*."""
    run = five(book, later(days=40))
    confirm(run, book)
    view = what_stands(book)
    (question,) = view.questions
    assert (question.code, question.about) == ("rows-ahead", run) and "five-cut" in question.text
    assert view.lines == ()
    given = answer(run[:8], "rows", book)
    assert "1 dated ahead" in given.mended
    view = what_stands(book)
    assert view.questions == () and FENCE in {line.standing.feature for line in view.lines}
    (stands,) = [one for one in last_kept(book) if one.kind == "run"]
    assert shop_now.shop_now(book).history.answer(stands.id, "confirm") == "yes", "its confirmation goes along"


def test_looked_at_as_it_stood_what_is_later_is_no_matter(book: Path) -> None:
    five(book, later(hours=-3))
    assert what_stands(book, at=later(hours=-4)).questions == ()


def test_a_whole_session_ahead_keeps_its_order_and_its_times_apart(book: Path) -> None:
    start = later(days=40)
    five(book, later(days=-2))
    five(book, start)
    record_move("fence-angle", "open", "0.0105", book, at=start + timedelta(minutes=10))
    record_event("tilt-used", "", book, at=start + timedelta(minutes=12))
    five(book, start + timedelta(minutes=30), answers=("anew",))
    five(book, answers=("rows", "anew"))
    assert order(book) == ["run", "run", "move", "event", "run", "run"]
    times = [one.at for one in reversed(last_kept(book)) if one.kind != "answer"]
    assert times[-1] <= datetime.now(UTC)
    apart = [(b - a).total_seconds() for a, b in pairwise(times[1:5])]
    assert apart == pytest.approx([600, 120, 1080], abs=0.01)


def test_it_is_drawn_together_where_there_is_no_room(book: Path) -> None:
    """Found two minutes ago, then a session of an hour, dated ahead: it lies in those two minutes."""
    first = five(book, later(minutes=-2))
    start = later(days=1)
    record_event("saw-carried", "", book, at=start)
    record_event("tilt-used", "", book, at=start + timedelta(hours=1))
    five(book, answers=("rows", "anew"))
    kept = [one for one in reversed(last_kept(book)) if one.kind != "answer"]
    assert [one.kind for one in kept] == ["run", "event", "event", "run"] and kept[0].id == first
    assert kept[0].at <= kept[1].at <= kept[2].at <= kept[3].at <= datetime.now(UTC)


def test_measured_parts_keep_their_readings_and_what_came_of_them(book: Path) -> None:
    text = (EXAMPLES / "rack.toml").read_text(encoding="utf-8")
    prove_job(text, ["shelf@1:rule=13.377", "shelf@2:rule=13.375"], book=book, at=later(days=3))
    prove_job(text, ["shelf@3:rule=13.376"], book=book, answers=("rows",))
    with opened(book) as kept:
        first, _ = kept.runs(check="proof")
    assert [reading.typed for reading in first.readings] == ["13.377", "13.375"]


def test_what_is_told_late_across_a_move_of_the_same_thing_is_asked_about(book: Path) -> None:
    run_at = later(hours=-3)
    five(book, later(hours=-4))
    record_move("fence-angle", "open", "0.0105", book, at=later(hours=-1))
    with pytest.raises(Asks) as asks:
        five(book, run_at)
    (question,) = asks.value.questions
    assert question.code == "late-entry" and "open by 0.0105" in question.text
    five(book, run_at, answers=("before", "anew"))
    assert order(book) == ["run", "run", "move"]
    five(book, run_at + timedelta(minutes=30), answers=("after", "anew"))
    assert order(book) == ["run", "run", "move", "run"]


def test_what_is_told_late_with_nothing_of_it_between_is_as_before(book: Path) -> None:
    """An event typed late leaves the later run good; a move of another thing is no matter."""
    run_check("stop-scale", ["measured@4=4.005", "measured@7=7.006"], {"angle": "0"}, book=book, at=later(hours=-5))
    record_move("stop-offset", "shorter", "0.005", book, at=later(hours=-2))
    five(book, later(hours=-1))
    record_event("screw-touched", "sled", book, at=later(hours=-3), answers=("before",))
    five(book, later(hours=-4), answers=("before", "anew"))
    assert order(book) == ["run", "run", "event", "move", "run"]


def test_the_mend_of_a_clock_is_withdrawn_like_anything(book: Path) -> None:
    five(book, later(days=1))
    record_event("tilt-used", "", book, answers=("rows",))
    (run,) = [one for one in last_kept(book) if one.kind == "run"]
    take_back(run.id, book)
    assert order(book) == ["event"]
