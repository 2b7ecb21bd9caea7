"""A proved copy of the book each day that it changed, beside it; so many are kept, and the last good one never goes."""

from __future__ import annotations

import math
import re
from datetime import datetime
from pathlib import Path

from trued.usecases.book.back_up import back_up

KEPT = 14
"""So many days that something was recorded on; a slip is seen within them, and a copy of a book is a few megabytes."""


def copies_of(book: Path) -> tuple[Path, ...]:
    """The daily copies, the oldest first."""
    named = re.compile(rf"{re.escape(book.stem)}-[0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}}\.trued")
    folder = folder_of(book)
    return tuple(sorted(path for path in folder.glob("*.trued") if named.fullmatch(path.name)))


def folder_of(book: Path) -> Path:
    """Where they lie."""
    return book.with_name(f"{book.stem}-copies")


def daily_copy(book: Path, at: datetime, *, kept: int = KEPT) -> Path | None:
    """Today's copy, proved; None where there is one already, or nothing came since the last.

    Older ones go only after the new one was opened, found sound and counted. InputRefused or BookRefused: none was
    made, and none went.
    """
    to = folder_of(book) / f"{book.stem}-{at.astimezone():%Y-%m-%d}.trued"
    before = copies_of(book)
    if to.exists() or (before and _changed(book) <= before[-1].stat().st_mtime):
        return None
    to.parent.mkdir(exist_ok=True)
    back_up(book, to)
    for old in copies_of(book)[: -max(1, kept)]:
        old.unlink()
    return to


def _changed(book: Path) -> float:
    """When anything was last written, s: rows wait in the file beside it before they are taken in."""
    files = (book, book.with_name(f"{book.name}-wal"))
    return max((path.stat().st_mtime for path in files if path.exists()), default=math.inf)
