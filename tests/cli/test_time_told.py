"""The time that is told: still to come, of an hour that comes twice, or of one that is left out."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from tests.cli.calling import STRIP, Call

from trued.cli.result import moment, when
from trued.errors import InputRefused


@pytest.fixture
def new_york(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Where the clocks go back on 2026-11-01 and forward on 2026-03-08 (Energy Policy Act of 2005, sec. 110)."""
    monkeypatch.setenv("TZ", "EST5EDT,M3.2.0,M11.1.0")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.usefixtures("new_york")
def test_the_hour_that_comes_twice_is_told_and_asked() -> None:
    with pytest.raises(InputRefused, match="comes twice") as refused:
        moment("2026-11-01T01:30")
    said = refused.value.faults[0].text
    assert "2026-11-01T01:30-0400 for the first, 2026-11-01T01:30-0500 for the second" in said
    assert moment("2026-11-01T01:30-0400") == datetime(2026, 11, 1, 5, 30, tzinfo=UTC)
    assert moment("2026-11-01T01:30-0500") == datetime(2026, 11, 1, 6, 30, tzinfo=UTC)
    assert moment("2026-11-01T00:59") == datetime(2026, 11, 1, 4, 59, tzinfo=UTC)
    assert moment("2026-11-01T02:00") == datetime(2026, 11, 1, 7, 0, tzinfo=UTC)


@pytest.mark.usefixtures("new_york")
def test_the_hour_that_is_left_out_is_none() -> None:
    with pytest.raises(InputRefused, match="left out"):
        moment("2026-03-08T02:30")
    assert moment("2026-03-08T03:00") == datetime(2026, 3, 8, 7, 0, tzinfo=UTC)


def test_a_time_ahead_of_this_clock_is_refused_with_the_clock() -> None:
    """Before, up to a day ahead was kept, and was then gone from the standing."""
    with pytest.raises(InputRefused, match="by this computer's clock it is"):
        when((datetime.now(UTC) + timedelta(minutes=5)).isoformat())
    before = datetime.now(UTC)
    found = when((before + timedelta(seconds=30)).isoformat())
    assert found is not None and before <= found <= datetime.now(UTC), "typed to the minute, it is now"


def test_a_clock_that_went_back_asks_on_the_command_line(trued: Call, book: Path) -> None:
    from trued.usecases.runs.run_check import run_check

    run_check("five-cut", STRIP, {}, book=book, at=datetime.now(UTC) + timedelta(hours=2))
    asked = trued("moved", "fence-angle", "open", "0.0105", "--book", book)
    assert asked.status == 2 and "--answer rows " in asked.err and "--answer clock " in asked.err
    out = trued("standing", "--book", book).out
    assert "cannot be yet" in out and "trued answer" in out
    assert trued("moved", "fence-angle", "open", "0.0105", "--answer", "rows", "--book", book).status == 0
    assert trued("standing", "--book", book, "--json").json["asks"] == []
