"""Runs and their readings: added once, corrected by later rows, read back as they stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, select

from trued.errors import InputRefused
from trued.store import tables
from trued.store.kept.append_row import add_all, add_correctable, columns_of, stands, values_of
from trued.store.kept.renamed import names_of_check, readings_now, run_now
from trued.store.kept.state_cache import drop_states
from trued.store.rows import ReadingRow, RunRow, StoredRun

_RUN = columns_of(tables.run, RunRow)
_TOLD = [tables.reading.c[field.name] for field in fields(ReadingRow) if field.name != "exact_mm"]
READING = (*_TOLD, tables.reading.c.mm_num, tables.reading.c.mm_den)
_EXACT = [field.name for field in fields(ReadingRow)].index("exact_mm")


def add_run(connection: Connection, run: RunRow, readings: Sequence[ReadingRow]) -> bool:
    """Whether anything of it was new; ValueError when a reading belongs to another run."""
    if any(reading.run != run.id for reading in readings):
        raise ValueError("a reading of another run was given")
    new = [add_correctable(connection, tables.run, values_of(run))]
    new += [_add_readings(connection, readings)]
    if any(new):
        drop_states(connection, since=_earliest(connection, run))
    return any(new)


def correct_reading(connection: Connection, reading: ReadingRow) -> bool:
    """Whether the correction was new."""
    new = _add_readings(connection, [reading])
    if new:
        taken = connection.scalar(select(tables.run.c.taken).where(tables.run.c.id == reading.run))
        drop_states(connection, since=taken)
    return new


def read_runs(connection: Connection, *wanted: ColumnElement[bool], corrected: bool = False) -> tuple[StoredRun, ...]:
    """Runs in the order of (taken, id); with `corrected` also those that a later row put out of force."""
    table = tables.run
    where = wanted if corrected else (*wanted, stands(table))
    found = connection.execute(select(*_RUN).where(*where).order_by(table.c.taken, table.c.id)).all()
    readings = _read_readings(connection, select(table.c.id).where(*where))
    rows = (run_now(RunRow(*row)) for row in found)
    return tuple(StoredRun(row, readings_now(row.check, readings.get(row.id, {}).values())) for row in rows)


def time_of_run(connection: Connection, number: int, *wanted: ColumnElement[bool]) -> datetime | None:
    """When the run of that number, counted from 1 in order of time, was taken; those out of force count too."""
    taken = tables.run.c.taken
    return connection.scalar(select(taken).where(*wanted).order_by(taken).offset(number - 1).limit(1))


def run_filters(
    check: str | None, fixture: str | None, until: datetime | None, since: datetime | None = None
) -> list[ColumnElement[bool]]:
    """What the asked-for runs have in common."""
    table = tables.run
    filters: list[ColumnElement[bool]] = [] if check is None else [table.c.check.in_(names_of_check(check))]
    filters += [] if fixture is None else [table.c.fixture == fixture]
    filters += [] if since is None else [table.c.taken > since]
    return filters if until is None else [*filters, table.c.taken <= until]


def _add_readings(connection: Connection, readings: Sequence[ReadingRow]) -> bool:
    for reading in readings:
        if reading.supersedes is not None:
            _same_place(connection, reading)
    return add_all(connection, tables.reading, [_values(reading) for reading in readings])


def _values(reading: ReadingRow) -> tuple[dict[str, Any], dict[str, Any]]:
    """What tells the reading from others, and when it was received, which a second delivery may say anew."""
    values = values_of(reading)
    values["mm_num"], values["mm_den"] = values.pop("exact_mm") or (None, None)
    return values, {"received": values.pop("received")}


def _same_place(connection: Connection, reading: ReadingRow) -> None:
    table = tables.reading
    corrected = connection.execute(select(table.c.run, table.c.seq).where(table.c.id == reading.supersedes)).first()
    if corrected is None or tuple(corrected) != (reading.run, reading.seq):
        text = "A correction belongs to the same place of the same run as the reading it corrects."
        raise InputRefused.of(reading.name, reading.typed, text)


def _read_readings(connection: Connection, runs: Any) -> Mapping[str, dict[int, ReadingRow]]:
    """Readings by run and place; of each place the one that came in last."""
    table = tables.reading
    asked = select(*READING).where(table.c.run.in_(runs))
    found: dict[str, dict[int, ReadingRow]] = {}
    for values in connection.execute(asked.order_by(table.c.run, table.c.seq, table.c.arrived)):
        reading = reading_of(*values)
        found.setdefault(reading.run, {})[reading.seq] = reading
    return found


def reading_of(*found: Any) -> ReadingRow:
    """The reading of what was found in the columns `READING`."""
    *values, num, den = found
    values.insert(_EXACT, None if num is None else (num, den))
    return ReadingRow(*values)


def _earliest(connection: Connection, run: RunRow) -> datetime:
    """When the history changes from: the run's own time, or that of the earliest run it puts out of force."""
    table = tables.run
    chain = select(table.c.chain).where(table.c.id == run.id).scalar_subquery()
    times = connection.scalars(select(table.c.taken).where(table.c.chain == chain)).all()
    return min(times, default=run.taken)
