"""Runs and their readings: added once, corrected by later rows, read back as they stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, select

from trued.errors import InputRefused
from trued.store import tables
from trued.store.adding import add, add_correctable, stands, values_of
from trued.store.rows import ReadingRow, RunRow, StoredRun
from trued.store.states import drop_states

_RUN = [column for column in tables.run.c if column.name not in ("chain", "arrived")]
_READING = [column for column in tables.reading.c if column.name not in ("arrived", "mm_num", "mm_den")]


def add_run(connection: Connection, run: RunRow, readings: Sequence[ReadingRow]) -> bool:
    """Whether anything of it was new; ValueError when a reading belongs to another run."""
    if any(reading.run != run.id for reading in readings):
        raise ValueError("a reading of another run was given")
    new = [add_correctable(connection, tables.run, values_of(run))]
    new += [_add_reading(connection, reading) for reading in readings]
    if any(new):
        drop_states(connection, since=_earliest(connection, run))
    return any(new)


def correct_reading(connection: Connection, reading: ReadingRow) -> bool:
    """Whether the correction was new."""
    new = _add_reading(connection, reading)
    if new:
        taken = connection.scalar(select(tables.run.c.taken).where(tables.run.c.id == reading.run))
        drop_states(connection, since=taken)
    return new


def read_runs(connection: Connection, *wanted: ColumnElement[bool], corrected: bool = False) -> tuple[StoredRun, ...]:
    """Runs in the order of (taken, id); with `corrected` also those that a later row put out of force."""
    table = tables.run
    where = wanted if corrected else (*wanted, stands(table))
    found = connection.execute(select(*_RUN).where(*where).order_by(table.c.taken, table.c.id)).mappings().all()
    readings = _read_readings(connection, select(table.c.id).where(*where))
    return tuple(StoredRun(RunRow(**row), tuple(readings.get(row["id"], {}).values())) for row in found)


def run_filters(check: str | None, fixture: str | None, until: datetime | None) -> list[ColumnElement[bool]]:
    """What the asked-for runs have in common."""
    table = tables.run
    filters = [] if check is None else [table.c.check == check]
    filters += [] if fixture is None else [table.c.fixture == fixture]
    return filters if until is None else [*filters, table.c.taken <= until]


def _add_reading(connection: Connection, reading: ReadingRow) -> bool:
    values = values_of(reading)
    exact, received = values.pop("exact_mm"), values.pop("received")
    values["mm_num"], values["mm_den"] = exact or (None, None)
    if reading.supersedes is not None:
        _same_place(connection, reading)
    return add(connection, tables.reading, values, own={"received": received})


def _same_place(connection: Connection, reading: ReadingRow) -> None:
    table = tables.reading
    corrected = connection.execute(select(table.c.run, table.c.seq).where(table.c.id == reading.supersedes)).first()
    if corrected is None or tuple(corrected) != (reading.run, reading.seq):
        text = "A correction belongs to the same place of the same run as the reading it corrects."
        raise InputRefused.of(reading.name, reading.typed, text)


def _read_readings(connection: Connection, runs: Any) -> Mapping[str, dict[int, ReadingRow]]:
    """Readings by run and place; of each place the one that came in last."""
    table = tables.reading
    asked = select(*_READING, table.c.mm_num, table.c.mm_den).where(table.c.run.in_(runs))
    found: dict[str, dict[int, ReadingRow]] = {}
    for row in connection.execute(asked.order_by(table.c.run, table.c.seq, table.c.arrived)).mappings():
        values = dict(row)
        num, den = values.pop("mm_num"), values.pop("mm_den")
        reading = ReadingRow(**values, exact_mm=None if num is None else (num, den))
        found.setdefault(reading.run, {})[reading.seq] = reading
    return found


def _earliest(connection: Connection, run: RunRow) -> datetime:
    """When the history changes from: the run's own time, or that of the earliest run it puts out of force."""
    table = tables.run
    chain = select(table.c.chain).where(table.c.id == run.id).scalar_subquery()
    times = connection.scalars(select(table.c.taken).where(table.c.chain == chain)).all()
    return min(times, default=run.taken)
