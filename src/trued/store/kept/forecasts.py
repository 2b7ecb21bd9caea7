"""The tool's own record: every chance that it told, and what came of it."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection, select

from trued.store import tables
from trued.store.kept.append_row import add_all, columns_of, stands, values_of
from trued.store.rows import CameRow, StatedRow, Told


def add_stated(connection: Connection, rows: Sequence[StatedRow]) -> None:
    """Keep chances as they were told."""
    add_all(connection, tables.stated, [(values_of(row), {}) for row in rows])


def add_came(connection: Connection, rows: Sequence[CameRow]) -> None:
    """Keep what came of them."""
    add_all(connection, tables.came, [(values_of(row), {}) for row in rows])


def read_came(connection: Connection, run: str) -> tuple[CameRow, ...]:
    """What came of them by that run."""
    asked = select(*columns_of(tables.came, CameRow)).where(tables.came.c.run == run).order_by(tables.came.c.arrived)
    return tuple(CameRow(*row) for row in connection.execute(asked))


def read_told(connection: Connection, plan: str | None = None) -> tuple[Told, ...]:
    """Every chance that was told, in the order of (time, id), with the last that came of it; what came of measured
    parts that were taken back does not count."""
    stated, came, run = tables.stated, tables.came, tables.run
    counts = select(came).where(select(run.c.id).where(run.c.id == came.c.run, stands(run)).exists()).subquery()
    later = counts.alias("later")
    newer = select(later.c.id).where(later.c.stated == counts.c.stated, later.c.arrived > counts.c.arrived).exists()
    last = select(counts.c.stated, counts.c.fitted).where(~newer).subquery()
    wanted = () if plan is None else (stated.c.plan == plan,)
    asked = select(*columns_of(stated, StatedRow), last.c.fitted).join_from(
        stated, last, stated.c.id == last.c.stated, isouter=True
    )
    rows = connection.execute(asked.where(*wanted).order_by(stated.c.at, stated.c.id))
    return tuple(Told(StatedRow(*row[:-1]), row[-1]) for row in rows)
