"""Open a book that cannot be written: on a full disk, on a read-only medium, in a folder of somebody else.

A book in use has two more files beside it: `-wal`, rows that are kept and not tidied in yet, and `-shm`, by which
programs share them. Without room for the latter the database refuses even to read. Ways around, from its manual (WAL,
chapters 6 and 8): alone in the file it needs no `-shm`; and a file beside which there is no `-wal` may be read as one
that nobody changes.
"""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path

from trued.store.file.held import connect
from trued.store.file.refusals import may_write

ROOM = 65_536
"""Bytes: a disk with less has no room for a `-shm` (32 KB) and a page of rows."""

_WITHOUT_ROOM = {
    sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_PERM,
}
FULL = "The disk is full: nothing of this was kept. Make room, then do it again."
STILL = "It can still be read, and copied to another place with trued backup."


def for_want_of_room(error: BaseException | None) -> bool:
    """Whether the database said that it could not write, and nothing worse."""
    code = getattr(getattr(error, "orig", error), "sqlite_errorcode", None)
    return code is not None and code & 0xFF in _WITHOUT_ROOM


def is_full(path: Path) -> bool:
    """Whether the disk of that file has no room left."""
    try:
        return shutil.disk_usage(path.absolute().parent).free < ROOM
    except OSError:
        return False


def raw_to_read(path: Path, wait_s: float) -> sqlite3.Connection:
    """The driver's connection to a file that is only read; every row that was ever acknowledged is in it.

    sqlite3.Error when no way leads to all of them.
    """
    ways = [_alone] if may_write(path) else [_beside_others]
    if not any(path.with_name(path.name + end).exists() for end in ("-wal", "-shm")):
        ways.append(_unchanging)  # nobody has it open, and nothing of it lies elsewhere
    for way in ways[:-1]:
        try:
            return _begun(way, path, wait_s)
        except sqlite3.Error:
            continue
    return _begun(ways[-1], path, wait_s)


def _begun(way: Callable[[Path, float], sqlite3.Connection], path: Path, wait_s: float) -> sqlite3.Connection:
    connection = way(path, wait_s)
    try:
        connection.execute("PRAGMA query_only = ON")
        connection.execute("PRAGMA trusted_schema = OFF")
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except BaseException:
        connection.close()
        raise
    return connection


def _alone(path: Path, wait_s: float) -> sqlite3.Connection:
    connection = connect(path, "mode=rw", wait_s)
    connection.execute("PRAGMA locking_mode = EXCLUSIVE")
    return connection


def _beside_others(path: Path, wait_s: float) -> sqlite3.Connection:
    return connect(path, "mode=ro", wait_s)


def _unchanging(path: Path, wait_s: float) -> sqlite3.Connection:
    return connect(path, "mode=ro&immutable=1", wait_s)
