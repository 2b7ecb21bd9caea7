"""One connection to the book's file, set so that what was acknowledged survives a cut of the power."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import cast

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.pool import NullPool

from trued.store.file.held import connect
from trued.store.file.reading_only import raw_to_read

WRITES = "trued_writes"
"""Execution option of a connection whose next transaction takes the book for writing from its start."""

_SETTINGS = (
    "synchronous = FULL",  # each commit waits until the disk has it
    "fullfsync = ON",  # on macOS only this reaches the disk itself
    "checkpoint_fullfsync = ON",
    "foreign_keys = ON",
    "recursive_triggers = ON",  # so that INSERT OR REPLACE cannot slip past the guards
    "trusted_schema = OFF",
    # SQLite before 3.51.3 has a race when one connection writes while another tidies up the write-ahead file.
    # Tidying is left to the last connection that closes: it has the file to itself.
    "wal_autocheckpoint = 0",
)


def raw(path: Path, *, create: bool, wait_s: float) -> sqlite3.Connection:
    """The driver's own connection; transactions are begun by us alone."""
    connection = connect(path, f"mode={'rwc' if create else 'rw'}", wait_s)
    try:
        for setting in _SETTINGS:
            connection.execute(f"PRAGMA {setting}")
    except BaseException:
        connection.close()
        raise
    return connection


@lru_cache(maxsize=8)
def engine(path: Path, *, create: bool, wait_s: float) -> Engine:
    """An engine whose transactions begin for reading, or for writing when the connection is marked `WRITES`.

    It keeps no connection open, only the statements that it has already put into words: one is kept for each book.
    """
    return _engine(lambda: raw(path, create=create, wait_s=wait_s))


def engine_to_read(path: Path, *, wait_s: float) -> Engine:
    """An engine for a book that cannot be written."""
    return _engine(lambda: raw_to_read(path, wait_s))


def _engine(creator: Callable[[], sqlite3.Connection]) -> Engine:
    made = create_engine("sqlite://", creator=creator, poolclass=NullPool, future=True)

    @event.listens_for(made, "begin")
    def _begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get(WRITES, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return made


def driver(connection: Connection) -> sqlite3.Connection:
    """The driver's connection under SQLAlchemy's."""
    return cast("sqlite3.Connection", connection.connection.driver_connection)


def waits_ahead(connection: Connection) -> bool:
    """Whether what is written waits in a write-ahead file first, as in every book in use; a copy stands alone."""
    return bool(driver(connection).execute("PRAGMA journal_mode").fetchone() == ("wal",))


def wait_ahead(connection: Connection) -> None:
    """Make it so, outside a transaction; no more than a look where it is so already."""
    if not waits_ahead(connection):
        driver(connection).execute("PRAGMA journal_mode = WAL")
