"""Where things lie that the person did not name: the book, further checks, the trued data folder."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from trued.errors import BookRefused

BOOK_VARIABLE = "TRUED_BOOK"
CHECKS_VARIABLE = "TRUED_CHECKS"


def book_path(given: str | None) -> Path | None:
    """The book that was named, else $TRUED_BOOK, else none."""
    name = given or os.environ.get(BOOK_VARIABLE) or None
    return Path(name).expanduser() if name else None


def needed_book(given: str | None) -> Path:
    """As `book_path`, but a verb that is senseless without a book refuses to go on."""
    path = book_path(given)
    if path is None:
        raise BookRefused.of("--book", "", f"No book is named: give --book FILE or set {BOOK_VARIABLE}.")
    return path


def check_folders() -> tuple[str, ...]:
    """Folders with checks of the person's own, from $TRUED_CHECKS; none unless it is set."""
    return tuple(folder for folder in os.environ.get(CHECKS_VARIABLE, "").split(os.pathsep) if folder)


def data_folder() -> Path:
    """The folder of this person's own data, by the custom of the system; it need not exist yet."""
    if sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA", Path.home() / "AppData" / "Local"))
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_DATA_HOME", Path.home() / ".local" / "share"))
    return base / "trued"
