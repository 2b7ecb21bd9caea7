"""Copy the book while it is in use, and prove that the copy opens."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from trued.usecases.shop.shop_now import opened


@dataclass(frozen=True, slots=True)
class BackupView:
    """Where the copy lies and how many rows it was found to hold, table by table."""

    path: Path
    rows: tuple[tuple[str, int], ...]


def back_up(book: Path, to: Path) -> BackupView:
    """The copy was opened, found sound, and counted."""
    with opened(book) as kept:
        copied = kept.backup(to)
    return BackupView(copied.path, tuple(sorted(copied.rows.items())))
