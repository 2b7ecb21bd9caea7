"""Moves, events and answers: added once, corrected by later rows, read back as they stand."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Result, Table, select

from trued.store import tables
from trued.store.kept.append_row import add_correctable, columns_of, stands, values_of
from trued.store.kept.arrivals import until_version_2
from trued.store.kept.renamed import event_now, move_now
from trued.store.kept.state_cache import drop_states
from trued.store.rows import AnswerRow, EventRow, MoveRow


def add_move(connection: Connection, move: MoveRow) -> bool:
    """Whether it was new."""
    return _add(connection, tables.move, move)


def add_event(connection: Connection, event: EventRow) -> bool:
    """Whether it was new."""
    return _add(connection, tables.event, event)


def add_answer(connection: Connection, answer: AnswerRow) -> bool:
    """Whether it was new. What it is about may lie anywhere in the past, so every standing kept for speed goes."""
    new = add_correctable(connection, tables.answer, values_of(answer))
    if new:
        drop_states(connection)
    return new


def read_moves(
    connection: Connection,
    *,
    feature: str | None = None,
    until: datetime | None = None,
    since: datetime | None = None,
) -> tuple[MoveRow, ...]:
    """Moves that stand, in the order of (at, id)."""
    first = until_version_2(connection)
    found = _read(connection, tables.move, MoveRow, until, since)
    rows = (move_now(MoveRow(*row), first_book=arrived <= first) for *row, arrived in found)
    return tuple(row for row in rows if feature is None or row.feature == feature)


def read_events(
    connection: Connection, *, until: datetime | None = None, since: datetime | None = None
) -> tuple[EventRow, ...]:
    """Events that stand, in the order of (at, id)."""
    return tuple(event_now(EventRow(*row)) for *row, _ in _read(connection, tables.event, EventRow, until, since))


def read_answers(connection: Connection, *, until: datetime | None = None) -> tuple[AnswerRow, ...]:
    """Answers that stand, in the order of (at, id)."""
    return tuple(AnswerRow(*row) for *row, _ in _read(connection, tables.answer, AnswerRow, until, None))


def _add(connection: Connection, table: Table, row: MoveRow | EventRow) -> bool:
    new = add_correctable(connection, table, values_of(row))
    if new:
        chain = select(table.c.chain).where(table.c.id == row.id).scalar_subquery()
        drop_states(connection, since=min(connection.scalars(select(table.c.at).where(table.c.chain == chain))))
    return new


def _read(
    connection: Connection,
    table: Table,
    row: type[MoveRow | EventRow | AnswerRow],
    until: datetime | None,
    since: datetime | None,
) -> Result[*tuple[Any, ...]]:
    times = [] if until is None else [table.c.at <= until]
    times += [] if since is None else [table.c.at > since]
    asked = select(*columns_of(table, row), table.c.arrived).where(stands(table), *times)
    return connection.execute(asked.order_by(table.c.at, table.c.id))
