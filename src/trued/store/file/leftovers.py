"""The files that stand beside a book in use, and whether they belong to it."""

from __future__ import annotations

import os
from pathlib import Path

from trued.errors import BookRefused
from trued.store.file.held import head_of
from trued.store.file.refusals import book_refused

ENDS = ("-wal", "-shm", "-journal")
"""What the database adds to the book's name: rows not yet taken in, their index, and the way back out of a change."""

_READS_AS = slice(
    18, 20
)  # of the head: 2 where rows may wait in a write-ahead file, 1 where none can (fileformat2, 1.3)
_NEVER_AHEAD = b"\x01\x01"


def beside(path: Path) -> tuple[Path, ...]:
    """The names that such files have, whether there are any or not."""
    return tuple(path.parent / (path.name + end) for end in ENDS)


def of_another(path: Path) -> bool:
    """Whether rows wait beside this file that cannot be its own.

    Every copy that this program makes says in its head that no rows wait beside it; a book in use says that they may,
    and says so before the first one waits. The database itself does not look, and would mix the two.
    """
    wal = beside(path)[0]
    try:
        if wal.stat().st_size == 0:
            return False
        head = head_of(path, 20)  # after looking for the other one: a book in use is never taken for a copy
        return head is not None and head[_READS_AS] == _NEVER_AHEAD
    except OSError:
        return False  # what cannot be read is refused in its own words


def refused_of_another(path: Path) -> BookRefused:
    """The refusal of a copy that was put over a book whose other files were left."""
    wal, shm, _ = beside(path)
    return book_refused(
        path,
        f"This is a copy that was put in the place of another book: {wal.name} and {shm.name} belong to the one that"
        f" was here before, and would spoil {path.name}. Nothing was changed. Put it in its place with:"
        f" trued restore {path} --book {path}",
    )


def on_disk(folder: Path) -> None:
    """Wait until the disk has the names of the files in this folder, where the system can."""
    if os.name == "nt":
        return  # no folder can be opened there; NTFS keeps a journal of names
    fd = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(fd)
    finally:
        os.close(fd)
