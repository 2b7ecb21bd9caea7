"""Put a copy in the place of a book: proved first, the old files set aside together, swapped in one step."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Mapping
from contextlib import AbstractContextManager, closing, nullcontext, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from glob import escape
from pathlib import Path

from trued.errors import BookRefused, Fault, InputRefused
from trued.store.file.alone import alone
from trued.store.file.leftovers import beside, of_another, on_disk
from trued.store.file.refusals import may_write
from trued.store.ids import new_id
from trued.store.opening import WAIT_S, open_book


@dataclass(frozen=True, slots=True)
class Restored:
    """The book that is in place now, the names of the files that were set aside, and the copy's rows by table."""

    path: Path
    aside: tuple[Path, ...]
    rows: Mapping[str, int]


def restore_book(copy: Path, to: Path, at: datetime, *, wait_s: float = WAIT_S) -> Restored:
    """Put what `copy` holds in the place of the book `to`, which need not be there. `at` dates the files set aside.

    The copy is only read; what is proved is a copy of it in a hidden folder beside `to`. Killed at any moment, the book
    is the old one with all that belongs to it, or the copy, or refused with words until this is done again.
    InputRefused: what was named cannot be. BookRefused: the copy is not sound, or another program has the book open.
    """
    _look(copy, to)
    scratch = to.with_name(f".{to.name}.restore-{new_id()}")
    new = scratch / to.name
    try:
        scratch.mkdir()
        shutil.copyfile(copy, new)
        rows = _proved(copy, new)
        _stands_alone(new)
        with _held(to, wait_s):
            aside = _swap(new, to, at)
    except (OSError, sqlite3.Error) as error:
        raise InputRefused.of(str(to), "", f"The copy could not be put in its place ({error}).") from error
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    return Restored(to, aside, rows)


def _look(copy: Path, to: Path) -> None:
    folder = to.absolute().parent
    if not copy.is_file():
        raise InputRefused.of(str(copy), "", "There is no such file; name the copy that trued backup made.")
    if not folder.is_dir():
        raise InputRefused.of(str(to), "", f"There is no folder {folder}; make it first, or name another place.")
    if to.is_dir():
        raise InputRefused.of(str(to), "", "This is a folder; name the book's file in it.")
    if not may_write(folder):
        raise InputRefused.of(str(to), "", f"Nothing can be written in the folder {folder}; allow it first.")
    if of_another(copy):
        return  # what waits beside it is not its own, and is left where it is or set aside
    if to.exists() and copy.samefile(to):
        raise InputRefused.of(str(copy), "", "This is the book itself; name a copy of it.")
    if any(_size(name) for name in beside(copy) if not name.name.endswith("-shm")):
        text = "Rows wait beside this file, so it is a book in use and no copy; copy it with trued backup first."
        raise InputRefused.of(str(copy), "", text)


def _size(path: Path) -> int:
    return path.stat().st_size if path.exists() else 0


def _proved(copy: Path, new: Path) -> Mapping[str, int]:
    """The rows of the copy of the copy, brought up to date, if every one can be read."""
    try:
        with open_book(new) as book:
            looked = book.look_through()
    except BookRefused as refused:
        raise BookRefused(*(Fault(str(copy), "", fault.text) for fault in refused.faults)) from refused
    if looked.faults:
        text = "This copy is not sound and was not put in its place; name another one. The book is as it was."
        raise BookRefused(Fault(str(copy), "", text), *looked.faults)
    return looked.rows


def _stands_alone(new: Path) -> None:
    with closing(sqlite3.connect(new)) as book:
        book.execute("PRAGMA journal_mode = DELETE")
    with new.open("rb+") as file:
        os.fsync(file.fileno())


def _held(to: Path, wait_s: float) -> AbstractContextManager[None]:
    return alone(to, wait_s) if to.exists() else nullcontext()


def _swap(new: Path, to: Path, at: datetime) -> tuple[Path, ...]:
    """First the old files get their second names, then the new one takes the book's name, then the old leftovers go.

    Between the last two the book is a copy beside rows of another: that is refused when it is opened.
    """
    folder = to.absolute().parent
    _forget_unfinished(to)
    old = [path for path in (to, *beside(to)) if path.exists()]
    name = _free(to, at)
    aside = tuple(path.with_name(name + path.name.removeprefix(to.name)) for path in old)
    for path, kept in zip(old, aside, strict=True):
        _second_name(path, kept)
    on_disk(folder)
    new.replace(to)
    on_disk(folder)
    for path in old:
        if path != to:
            path.unlink()
    on_disk(folder)
    return aside


def _forget_unfinished(to: Path) -> None:
    """Where a restore was killed before its one step, the book still has the second name that it got then."""
    for name in to.absolute().parent.glob(f"{escape(to.name)}.set-aside-*"):
        if to.exists() and name.exists() and name.samefile(to):
            for path in (name, *beside(name)):
                path.unlink(missing_ok=True)


def _second_name(path: Path, kept: Path) -> None:
    """The same file under another name; where a disk knows no second names, a copy of it."""
    with suppress(OSError):
        os.link(path, kept)
        return
    shutil.copyfile(path, kept)
    with kept.open("rb+") as file:
        os.fsync(file.fileno())


def _free(to: Path, at: datetime) -> str:
    """A dated name that none of the files has yet."""
    first = f"{to.name}.set-aside-{at.astimezone(UTC):%Y-%m-%d-%H%M%S}"
    name, number = first, 2
    while any(path.exists() for path in (to.with_name(name), *beside(to.with_name(name)))):
        name, number = f"{first}-{number}", number + 1
    return name
