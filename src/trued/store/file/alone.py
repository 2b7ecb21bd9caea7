"""Hold a book's file so that no other program has it open, whatever its bytes say."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from trued.store.file.refusals import book_refused

# Where the database locks its files (its source, os.h): who has the book open holds some of these bytes.
_PENDING, _BYTES = 0x40000000, 512
_STEP_S = 0.05


@contextmanager
def alone(path: Path, wait_s: float) -> Iterator[None]:
    """While in here no other program can begin to read or write that file. BookRefused when one still has it open
    after `wait_s`; by another thread of this program it must not be open.

    The database's own locks are taken by hand, because to ask the database would make it read, and mend, the file.
    On Windows nothing is taken: a file that is open there cannot be given another name.
    """
    if sys.platform == "win32":
        yield
        return
    import fcntl

    with path.open("rb+") as file:
        end = time.monotonic() + wait_s
        while True:
            try:
                fcntl.lockf(file, fcntl.LOCK_EX | fcntl.LOCK_NB, _BYTES, _PENDING)
                break
            except OSError:
                if time.monotonic() >= end:
                    text = "Another program has this book open. Close it (the page too), then do it again."
                    raise book_refused(path, f"{text} Nothing was changed.") from None
                time.sleep(_STEP_S)
        yield
