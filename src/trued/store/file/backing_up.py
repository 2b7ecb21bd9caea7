"""Copy a book while it is in use, and prove that the copy is whole before it gets its name."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from trued.errors import InputRefused
from trued.store.file.leftovers import on_disk
from trued.store.file.refusals import may_write
from trued.store.ids import new_id


@dataclass(frozen=True, slots=True)
class Copied:
    """A copy that was opened, found sound, and has as many rows in each table as the book had."""

    path: Path
    rows: Mapping[str, int]


def copy_book(source: sqlite3.Connection, to: Path) -> Copied:
    """Copy the book behind `source` (not in a transaction) to the new file `to`; InputRefused when it cannot be.

    A file of that name is never overwritten. Until the copy is proven it has another name, which goes when it fails.
    """
    _look(to)
    unproven = to.with_name(f".{to.name}.{new_id()}")
    try:
        rows = _copy(source, unproven)
        _prove(unproven, rows, to)
        _keep(unproven, to)
    except (sqlite3.Error, OSError) as error:
        raise InputRefused.of(str(to), "", f"The copy could not be made ({error}); the book is as it was.") from error
    finally:
        for left in (unproven, *(unproven.with_name(unproven.name + end) for end in ("-wal", "-shm", "-journal"))):
            left.unlink(missing_ok=True)
    return Copied(to, rows)


def _look(to: Path) -> None:
    folder = to.absolute().parent
    if to.exists():
        raise InputRefused.of(str(to), "", "There is a file of this name; name another one for the copy.")
    if not folder.is_dir():
        raise InputRefused.of(str(to), "", f"There is no folder {folder}; make it first, or name another place.")
    if not may_write(folder):
        raise InputRefused.of(str(to), "", f"Nothing can be written in the folder {folder}; name another place.")


def _copy(source: sqlite3.Connection, to: Path) -> Mapping[str, int]:
    source.execute("BEGIN")  # so that the rows counted are the rows copied
    try:
        rows = count_rows(source)
        with closing(sqlite3.connect(to)) as copy:
            source.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")  # it stands alone: so rows left by another book are known
    finally:
        source.execute("ROLLBACK")
    return rows


def _prove(path: Path, rows: Mapping[str, int], to: Path) -> None:
    with closing(sqlite3.connect(path)) as copy:
        sound = copy.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        bound = copy.execute("PRAGMA foreign_key_check").fetchall() == []
        if not (sound and bound and count_rows(copy) == rows):
            text = "The copy does not hold what the book holds and was thrown away; check the disk and the book."
            raise InputRefused.of(str(to), "", text)


def _keep(path: Path, to: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())
    path.rename(to)
    on_disk(to.absolute().parent)


def count_rows(connection: sqlite3.Connection) -> Mapping[str, int]:
    """How many rows each table of the book has."""
    names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name").fetchall()
    return {name: connection.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for (name,) in names}  # noqa: S608 -- names from the book itself
