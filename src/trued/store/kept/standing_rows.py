"""Runs, moves, events and answers alike, as they stand: the newest, and those that are named by how their id begins."""

from __future__ import annotations

from sqlalchemy import ColumnElement, Connection, Table, select

from trued.store import tables
from trued.store.kept.append_row import columns_of, stands
from trued.store.kept.arrivals import until_version_2
from trued.store.kept.renamed import event_now, move_now, run_now
from trued.store.rows import AnswerRow, EventRow, MoveRow, RunRow

Row = RunRow | MoveRow | EventRow | AnswerRow

_KINDS: tuple[tuple[Table, type[Row], str], ...] = (
    (tables.run, RunRow, "taken"),
    (tables.move, MoveRow, "at"),
    (tables.event, EventRow, "at"),
    (tables.answer, AnswerRow, "at"),
)


def time_of(row: Row) -> tuple[object, str]:
    """By what they are put in one order."""
    return (row.taken if isinstance(row, RunRow) else row.at), row.id


def newest(connection: Connection, most: int) -> tuple[Row, ...]:
    """At most so many, the newest first."""
    return tuple(sorted(_read(connection, most), key=time_of, reverse=True)[:most])


def beginning_with(connection: Connection, beginning: str) -> tuple[Row, ...]:
    """Those whose id begins so, the newest first; two of a kind at the most."""
    found = (
        row
        for table, kind, time in _KINDS
        for row in _of(connection, table, kind, time, 2, table.c.id.startswith(beginning, autoescape=True))
    )
    return tuple(sorted(found, key=time_of, reverse=True))


def under(connection: Connection, id: str) -> tuple[Row, Row | None] | None:
    """The row of that id, in force or not, and the one that stands of its chain now (None: it was taken back)."""
    for table, kind, _ in _KINDS:
        rows = [*columns_of(table, kind), table.c.arrived, table.c.chain]
        found = connection.execute(select(*rows).where(table.c.id == id)).first()
        if found is not None:
            first = until_version_2(connection)
            *own, arrived, chain = found
            last = connection.execute(select(*rows).where(table.c.chain == chain, stands(table))).first()
            now = None if last is None else _now(kind(*last[:-2]), first_book=last[-2] <= first)
            return _now(kind(*own), first_book=arrived <= first), now
    return None


def _read(connection: Connection, most: int) -> list[Row]:
    return [row for table, kind, time in _KINDS for row in _of(connection, table, kind, time, most)]


def _of(
    connection: Connection, table: Table, kind: type[Row], time: str, most: int, *wanted: ColumnElement[bool]
) -> list[Row]:
    asked = select(*columns_of(table, kind), table.c.arrived).where(stands(table), *wanted)
    first = until_version_2(connection)
    rows = connection.execute(asked.order_by(table.c[time].desc(), table.c.id.desc()).limit(most))
    return [_now(kind(*row), first_book=arrived <= first) for *row, arrived in rows]


def _now(row: Row, *, first_book: bool) -> Row:
    if isinstance(row, RunRow):
        return run_now(row)
    if isinstance(row, MoveRow):
        return move_now(row, first_book=first_book)
    return event_now(row) if isinstance(row, EventRow) else row
