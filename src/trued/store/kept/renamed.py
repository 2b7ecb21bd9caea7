"""What lies in the book under old names, under those of today (`old_names.py`); the rows themselves stay."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from trued.standing.feature import named
from trued.standing.history.old_names import now_called, once_called
from trued.standing.history.old_names import renamed as line_of
from trued.store.rows import EventRow, MoveRow, ReadingRow, RunRow


def run_now(run: RunRow) -> RunRow:
    """The run of the check as it is called now, with the facts that an old check said by its name alone."""
    old = line_of("check", run.check)
    check = run.check if old is None else old.new
    meant = {} if old is None else dict(old.facts)
    facts = meant | {now_called("fact", name, check): value for name, value in run.facts.items()}
    return run if (check, facts) == (run.check, run.facts) else replace(run, check=check, facts=facts)


def readings_now(check: str, readings: Iterable[ReadingRow]) -> tuple[ReadingRow, ...]:
    """The readings of a run of that check (as it is called now)."""
    return tuple(_reading(check, reading) for reading in readings)


def move_now(move: MoveRow, *, first_book: bool) -> MoveRow:
    """The move of the feature as it is called now; `first_book`: the row is from a book of version 1."""
    feature = now_called("feature", move.feature, first_book=first_book)
    direction = now_called("direction", move.direction, named(feature).feature)
    same = (feature, direction) == (move.feature, move.direction)
    return move if same else replace(move, feature=feature, direction=direction)


def event_now(event: EventRow) -> EventRow:
    """The event as it is called now."""
    kind = now_called("event", event.kind)
    return event if kind == event.kind else replace(event, kind=kind)


def names_of_check(check: str) -> tuple[str, ...]:
    """Under which names its runs lie in a book."""
    return once_called("check", check)


def _reading(check: str, reading: ReadingRow) -> ReadingRow:
    name, place = now_called("reading", reading.name, check), now_called("place", reading.station, check)
    same = (name, place) == (reading.name, reading.station)
    return reading if same else replace(reading, name=name, station=place)
