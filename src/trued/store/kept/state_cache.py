"""Standings kept for speed: dropped from the moment on that a late row or a correction touches."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Connection, delete, insert, select

from trued.store.kept.append_row import columns_of, values_of
from trued.store.rows import StateRow
from trued.store.tables import filter_cache


def keep_state(connection: Connection, state: StateRow) -> None:
    """Keep it in place of an older one for the same row."""
    table = filter_cache
    same = (table.c.feature == state.feature, table.c.upto == state.upto, table.c.upto_id == state.upto_id)
    connection.execute(delete(table).where(*same))
    connection.execute(insert(table).values(values_of(state)))


def keep_alone(connection: Connection, state: StateRow) -> None:
    """Keep it in place of every other one of its feature."""
    connection.execute(delete(filter_cache).where(filter_cache.c.feature == state.feature))
    keep_state(connection, state)


def read_state(connection: Connection, feature: str, until: datetime | None = None) -> StateRow | None:
    """The latest one kept of the feature, of those that know of nothing later than `until`."""
    table = filter_cache
    times = () if until is None else (table.c.upto <= until,)
    asked = (
        select(*columns_of(table, StateRow))
        .where(table.c.feature == feature, *times)
        .order_by(table.c.upto.desc(), table.c.upto_id.desc())
    )
    row = connection.execute(asked.limit(1)).first()
    return None if row is None else StateRow(*row)


def drop_states(connection: Connection, *, since: datetime | None = None) -> None:
    """Drop all that rest on rows of `since` or later; without it every one."""
    table = filter_cache
    connection.execute(delete(table) if since is None else delete(table).where(table.c.upto >= since))
