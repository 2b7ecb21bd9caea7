"""What the database says when it cannot, as one sentence for the person."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError, IntegrityError

from trued.errors import BookRefused, InputRefused

_COPY = "put back a copy that trued backup made: trued restore COPY --book FILE"

DAMAGED = f"The book is damaged and was left as it is; {_COPY}"

_SENTENCES = {
    sqlite3.SQLITE_BUSY: "The book is locked: another program is writing in it. Wait a moment or close that program.",
    sqlite3.SQLITE_LOCKED: "The book is locked: another program is writing in it. Wait a moment or close that program.",
    sqlite3.SQLITE_CORRUPT: DAMAGED,
    sqlite3.SQLITE_NOTADB: f"This is not a trued book, or its beginning is damaged; name another file, or {_COPY}",
    sqlite3.SQLITE_READONLY: "The book can be read but not written; allow writing, or copy it to where you may write.",
    sqlite3.SQLITE_CANTOPEN: "The book cannot be opened; look whether you may read and write this file and its folder.",
    sqlite3.SQLITE_PERM: "The book cannot be opened; look whether you may read and write this file and its folder.",
    sqlite3.SQLITE_FULL: "The disk is full: nothing of this was kept. Make room, then do it again.",
    sqlite3.SQLITE_IOERR: "The disk failed to read or write: nothing of this was kept. Check the disk, then try again.",
}


def book_refused(path: Path, sentence: str) -> BookRefused:
    """The one-sentence refusal of the book at `path`."""
    return BookRefused.of(str(path), "", sentence)


@contextmanager
def refusals(path: Path) -> Iterator[None]:
    """Turn what the database raises into a sentence about the book at `path`."""
    try:
        yield
    except IntegrityError as error:
        text = "This points at something that is not in the book, or goes against what is; nothing of it was kept."
        raise InputRefused.of("", "", text) from error
    except UnicodeEncodeError as error:
        text = "This text has characters that cannot be kept; type it again."
        raise InputRefused.of("", ascii(error.object)[:60], text) from error
    except UnicodeDecodeError as error:  # the database's own complaint about its tables, in bytes that are no text
        raise book_refused(path, DAMAGED) from error
    except DBAPIError as error:
        raise _said(path, error.orig) from error
    except sqlite3.Error as error:
        raise _said(path, error) from error


def _said(path: Path, error: BaseException | None) -> BookRefused:
    code = getattr(error, "sqlite_errorcode", None)
    primary = None if code is None else code & 0xFF
    if primary in _SENTENCES:
        return book_refused(path, _SENTENCES[primary])
    return book_refused(path, f"The book could not be used: {error}.")


def may_write(path: Path) -> bool:
    """Whether this program may write the file or folder (as it runs now, not as who started it)."""
    return os.access(path, os.W_OK, effective_ids=os.access in os.supports_effective_ids)
