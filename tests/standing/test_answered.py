"""What was answered, in a history; and which of two rows of one moment comes first."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.history.history import Adjustment, Answered, History, Result, in_order

AT = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)
FENCE = "sled.fence-angle@0"
RUN = Result(AT, FENCE, "rad", UncertainValue(0.001, (ErrorSource("reading", "reading", 1e-4),)), "five-cut", "run")
MOVE = Adjustment(AT, FENCE, 0.001, "open", id="move")


def said(word: str, minute: int, id: str, **more: str) -> Answered:
    return Answered(AT + timedelta(minutes=minute), "run", "confirm", word, id, **more)


def test_the_last_answer_counts_and_one_that_is_corrected_does_not() -> None:
    history = History((RUN,), answered=(said("no", 2, "b"), said("yes", 1, "a"), said("no", 2, "b")))
    assert [row.id for row in history.answered] == ["a", "b"] and history.answer("run", "confirm") == "no"
    assert history.answer("other", "confirm") is history.answer("run", "other") is None
    assert history.until(AT + timedelta(minutes=1)).answer("run", "confirm") == "yes"
    assert History(answered=(said("yes", 1, "a"), said("no", 2, "b", supersedes="a"))).answered[0].id == "b"


def test_an_answer_has_its_zone() -> None:
    with pytest.raises(ValueError, match="zone"):
        Answered(datetime(2026, 5, 4), "run", "confirm", "yes")  # noqa: DTZ001 -- that is the point


def test_of_one_moment_the_arrival_decides_and_without_it_what_was_done_comes_first() -> None:
    assert in_order(History((RUN,), (MOVE,))) == (MOVE, RUN)
    found, moved = replace(RUN, arrived=4), replace(MOVE, arrived=5)
    assert in_order(History((found,), (moved,))) == (found, moved)
    assert History((found,), (moved,)).of(FENCE) == (found, moved)
    assert in_order(History((found,), (MOVE,))) == (MOVE, found), "what came before arrivals were counted is older"
