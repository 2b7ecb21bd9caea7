"""Moves and events: added once, corrected by later rows, read back as they stand."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import ColumnElement, Connection, MappingResult, Table, select

from trued.store import tables
from trued.store.adding import add_correctable, stands, values_of
from trued.store.rows import EventRow, MoveRow
from trued.store.states import drop_states


def add_move(connection: Connection, move: MoveRow) -> bool:
    """Whether it was new."""
    return _add(connection, tables.move, move)


def add_event(connection: Connection, event: EventRow) -> bool:
    """Whether it was new."""
    return _add(connection, tables.event, event)


def read_moves(
    connection: Connection, *, feature: str | None = None, until: datetime | None = None
) -> tuple[MoveRow, ...]:
    """Moves that stand, in the order of (at, id)."""
    wanted = () if feature is None else (tables.move.c.feature == feature,)
    return tuple(MoveRow(**row) for row in _read(connection, tables.move, wanted, until))


def read_events(connection: Connection, *, until: datetime | None = None) -> tuple[EventRow, ...]:
    """Events that stand, in the order of (at, id)."""
    return tuple(EventRow(**row) for row in _read(connection, tables.event, (), until))


def _add(connection: Connection, table: Table, row: MoveRow | EventRow) -> bool:
    new = add_correctable(connection, table, values_of(row))
    if new:
        chain = select(table.c.chain).where(table.c.id == row.id).scalar_subquery()
        drop_states(connection, since=min(connection.scalars(select(table.c.at).where(table.c.chain == chain))))
    return new


def _read(
    connection: Connection, table: Table, wanted: Sequence[ColumnElement[bool]], until: datetime | None
) -> MappingResult:
    columns = [column for column in table.c if column.name not in ("chain", "arrived")]
    times = () if until is None else (table.c.at <= until,)
    asked = select(*columns).where(stands(table), *wanted, *times).order_by(table.c.at, table.c.id)
    return connection.execute(asked).mappings()
