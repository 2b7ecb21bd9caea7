"""Look through a book from end to end: its structure, what points where, and every single row."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Column, ColumnElement, Connection, Row, Table, literal_column, select
from sqlalchemy.exc import DBAPIError

from trued.errors import Fault
from trued.store import tables
from trued.store.file.connecting import driver
from trued.store.kept import shops
from trued.store.kept.append_row import columns_of
from trued.store.kept.runs import READING, reading_of
from trued.store.kept.stocks import stock_of
from trued.store.rows import (
    AnswerRow,
    CameRow,
    DeviceRow,
    EventRow,
    JobRow,
    MarkRow,
    MoveRow,
    PlanRow,
    RunRow,
    StatedRow,
    StockChangeRow,
)

AT_ONCE = 1000  # rows that are read together; only where one of them cannot be read, each for itself
_MOST = 20  # sentences about the structure: more of them tell a person nothing more

_ROWID: ColumnElement[int] = literal_column("rowid")


@dataclass(frozen=True, slots=True)
class Looked:
    """How many rows of each table could be read, and all that is wrong."""

    rows: Mapping[str, int]
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class _Kind:
    table: Table
    columns: tuple[Column[Any], ...]
    read: Callable[[Row[Any]], object]


def _plain(table: Table, row: type[Any]) -> _Kind:
    return _Kind(table, tuple(columns_of(table, row)), lambda found: row(*found))


def _job(found: Row[Any]) -> JobRow:
    job = JobRow(*tuple(found)[:-1])
    if job.sha != found[-1]:
        raise ValueError("its text is not the one that was kept")
    return job


_KINDS = (
    _plain(tables.device, DeviceRow),
    _plain(tables.run, RunRow),
    _Kind(tables.reading, READING, lambda found: reading_of(*found)),
    _plain(tables.move, MoveRow),
    _plain(tables.event, EventRow),
    _plain(tables.answer, AnswerRow),
    _Kind(tables.job, (*columns_of(tables.job, JobRow), tables.job.c.sha), _job),
    _plain(tables.plan, PlanRow),
    _plain(tables.mark, MarkRow),
    _plain(tables.stated, StatedRow),
    _plain(tables.came, CameRow),
    _Kind(
        tables.stock,
        tuple(tables.stock.c),
        lambda found: stock_of(dict(zip(tables.stock.c.keys(), found, strict=True))),
    ),
    _plain(tables.stock_change, StockChangeRow),
)


def structure(connection: Connection) -> tuple[Fault, ...]:
    """What is wrong with the file itself, and which rows point at nothing; of a book of any version."""
    under = driver(connection)
    try:
        told = [text for (text,) in under.execute(f"PRAGMA integrity_check({_MOST})") if text != "ok"]
        loose = [
            f"Row {row} of {table} points at a {to} that is not in the book." for table, row, to, _ in _loose(under)
        ]
    except (sqlite3.Error, UnicodeDecodeError) as error:
        told, loose = [f"it cannot be read to its end ({error})"], []
    return tuple(Fault("", "", text) for text in (*(f"The file is damaged: {text}." for text in told), *loose))


def look_through(connection: Connection) -> Looked:
    """A book of the newest version, in a transaction of its own."""
    faults = list(structure(connection))
    try:
        shops.read_shop(connection)
    except Exception as error:  # noqa: BLE001 -- whatever is in the bytes: it is named, never thrown on
        faults.append(Fault("", "", f"The description of the shop cannot be read ({_why(error)})."))
    rows = {}
    for kind in _KINDS:
        unread = list(_unread(connection, kind))
        faults += unread
        rows[kind.table.name] = 0 if unread and not unread[0].where else _count(connection, kind) - len(unread)
    return Looked(rows, tuple(faults))


def _loose(under: sqlite3.Connection) -> list[tuple[str, int, str, int]]:
    return under.execute("PRAGMA foreign_key_check").fetchall()


def _count(connection: Connection, kind: _Kind) -> int:
    try:
        found: int = driver(connection).execute(f'SELECT count(*) FROM "{kind.table.name}" NOT INDEXED').fetchone()[0]  # noqa: S608 -- our own name
    except sqlite3.Error:
        return 0
    return found


def _unread(connection: Connection, kind: _Kind) -> Iterator[Fault]:
    """The rows that cannot be read, each named; one without a name when the table itself cannot be gone through."""
    name = kind.table.name
    asked = f'SELECT rowid FROM "{name}" NOT INDEXED ORDER BY rowid'  # noqa: S608 -- our own name
    try:
        ids = [row for (row,) in driver(connection).execute(asked)]
    except sqlite3.Error as error:
        yield Fault("", "", f"The table {name} cannot be gone through ({_why(error)}).")
        return
    for start in range(0, len(ids), AT_ONCE):
        part = ids[start : start + AT_ONCE]
        if _wrong(connection, kind, part[0], part[-1], len(part)) is None:
            continue
        for row in part:
            why = _wrong(connection, kind, row, row, 1)
            if why is not None:
                yield Fault(f"{name} {_name(connection, kind, row)}", "", f"This row cannot be read ({why}).")


def _wrong(connection: Connection, kind: _Kind, first: int, last: int, count: int) -> str | None:
    """Why one of those rows cannot be read; None when all can."""
    try:
        found = connection.execute(select(*kind.columns).where(_ROWID.between(first, last))).all()
        for row in found:
            kind.read(row)
    except Exception as error:  # noqa: BLE001 -- whatever is in the bytes: it is named, never thrown on
        return _why(error)
    return None if len(found) == count else "it is not found again"


def _why(error: Exception) -> str:
    said = error.orig if isinstance(error, DBAPIError) and error.orig is not None else error
    text = " ".join(ascii(str(said))[1:-1].split())
    return text if len(text) <= 120 else text[:119] + "…"


def _name(connection: Connection, kind: _Kind, row: int) -> str:
    """The row's id, as far as it can be read, else its number."""
    asked = f'SELECT CAST(id AS BLOB) FROM "{kind.table.name}" WHERE rowid = ?'  # noqa: S608 -- our own name
    try:
        (found,) = driver(connection).execute(asked, (row,)).fetchone()
        return ascii(bytes(found).decode("utf-8", "replace"))[1:-1] or f"number {row}"
    except (sqlite3.Error, TypeError):
        return f"number {row}"
