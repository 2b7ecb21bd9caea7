"""How the shop stands in one value: what can hurt someone comes before all else, and one thing is to be done."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.usecases.changes.record_event import record_event
from trued.usecases.messages.status_message import check_states, message_of
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.list_checks import list_ids, one_check
from trued.usecases.standing.standing import StandingView, what_stands
from trued.words.decisions import Badge

NOW = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)
OUT = ["fence_end=1.0120", "free_end=1.0500", "length=15"]
SAFETY = ("blade-parallel", "insert", "knife", "rip-fence")


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The example shop."""
    path = tmp_path / "shop.trued"
    describe_shop(Path(__file__).parents[2] / "examples" / "shop.toml", path)
    return path


def stands(book: Path, hours: float = 5) -> StandingView:
    return what_stands(book, at=NOW + timedelta(hours=hours))


def test_what_can_hurt_someone_and_was_never_seen_is_the_one_thing_to_do(book: Path) -> None:
    run_check("five-cut", OUT, {}, book=book, at=NOW)
    message = message_of(stands(book))
    assert [one.check for one in message.unsafe] == list(SAFETY)
    assert [order.run.check for order in message.orders if order.run] == ["blade-parallel"] and len(message.orders) == 1
    assert message.orders[0].warnings == one_check("blade-parallel").cautions
    assert "Adjust fence angle." in message.lead and "after that" in message.asides[0]


def test_a_ban_that_a_check_lifts_orders_that_check_and_no_cut(book: Path) -> None:
    """Another blade went on and the knife was not looked at: the strip of the five cuts is no thing to do then."""
    run_check("five-cut", OUT, {}, book=book, at=NOW)
    record_event("saw-carried", "", book, at=NOW + timedelta(hours=1))
    record_event("blade-thinner", "", book, at=NOW + timedelta(hours=2))
    view = stands(book)
    assert any("run knife first" in text for text in view.bans)
    message = message_of(view)
    assert [order.run.check for order in message.orders if order.run] == ["knife"]
    assert "No rip." in message.lead


def test_every_check_has_its_state_and_what_hurts_is_first(book: Path) -> None:
    states = check_states(stands(book))
    assert [one.check for one in states] == list(list_ids()) and {one.badge for one in states} == {Badge.NOT_CHECKED}
    assert tuple(one.check for one in states if one.first) == SAFETY
    run_check("five-cut", OUT, {}, book=book, at=NOW)
    five = next(one for one in check_states(stands(book)) if one.check == "five-cut")
    assert five.badge is Badge.OUT and five.first
    record_event("saw-carried", "", book, at=NOW + timedelta(hours=1))
    five = next(one for one in check_states(stands(book)) if one.check == "five-cut")
    assert five.badge is Badge.RECHECK and five.first


def test_no_order_no_number_and_no_warning_lies_in_a_fold_alone(book: Path) -> None:
    run_check("five-cut", OUT, {}, book=book, at=NOW)
    message = message_of(stands(book))
    folded = " ".join(line for fold in message.folds for line in fold.lines)
    assert "Move the left end" not in folded and "WARNING" not in folded
    assert "Fence angle (sled): " in folded
