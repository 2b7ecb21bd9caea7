"""Which books this program has open. Their files are opened by the database alone as long as it has them open.

POSIX (fcntl, close): whoever closes any descriptor of a file lets go of all locks that the process has on it. The locks
of the database would go too, and another program could take the book for its own ("How To Corrupt An SQLite Database
File", 2.2). So a look at a book's bytes is had before its first connection, and not while there is one.
"""

from __future__ import annotations

import sqlite3
import threading
from collections import Counter
from pathlib import Path

_LOOKING = threading.Lock()
_OPEN: Counter[tuple[int, int]] = Counter()


class HeldConnection(sqlite3.Connection):
    """A connection that counts as long as it is open."""

    which: tuple[int, int] | None = None

    def close(self) -> None:
        """Close it; twice is once."""
        super().close()
        with _LOOKING:
            if self.which is not None:
                _OPEN[self.which] -= 1
                self.which = None

    def __del__(self) -> None:
        """One that was forgotten; one that never opened has nothing to close."""
        if self.which is not None:
            self.close()


def connect(path: Path, how: str, wait_s: float) -> sqlite3.Connection:
    """The driver's connection to the file at `path`, `how` the end of its URI. Transactions are begun by us alone."""
    uri = f"{path.absolute().as_uri()}?{how}"
    with _LOOKING:
        made = sqlite3.connect(uri, uri=True, isolation_level=None, timeout=wait_s, factory=HeldConnection)
        found = path.stat() if path.exists() else None
        if found is not None:
            made.which = (found.st_dev, found.st_ino)
            _OPEN[made.which] += 1
    return made


def head_of(path: Path, length: int) -> bytes | None:
    """The first bytes of the file; None where this program has it open, so that they were looked at before."""
    with _LOOKING:
        found = path.stat()
        if _OPEN[found.st_dev, found.st_ino] > 0:
            return None
        with path.open("rb") as file:
            return file.read(length)
