"""Open a book, make one, or bring an older one up to date; refuse in one sentence what cannot be opened."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection

from trued.errors import BookRefused
from trued.store.book import Book
from trued.store.file import versions
from trued.store.file.connecting import WRITES, driver, engine, engine_to_read, wait_ahead
from trued.store.file.leftovers import beside, of_another, refused_of_another
from trued.store.file.making import make
from trued.store.file.reading_only import FULL, STILL, for_want_of_room, is_full
from trued.store.file.refusals import DAMAGED, book_refused, may_write, refusals
from trued.store.tables import metadata

WAIT_S = 5.0
"""How long another writer is waited for."""

LOOKED_THROUGH = 64_000_000
"""Bytes of a book that is looked through from end to end each time it is opened: about 150,000 readings."""
LONG = {"run", "reading"}

_HEAD = ("PRAGMA application_id", "PRAGMA user_version", "SELECT count(*) FROM sqlite_master")


def open_book(path: Path | str, *, create: bool = False, wait_s: float = WAIT_S) -> Book:
    """The book at `path`, brought up to date if it is older (a copy is laid beside it first).

    With `create` a book that does not exist is made; one that exists is opened as it is. BookRefused: missing, not a
    book of ours, damaged, newer than this program, locked by another program, put over the rows of another one, or not
    to be written.
    One of today that cannot be written is opened for reading, and what is to be kept in it is refused.
    """
    path = Path(path)
    _must_be_its_own(path)
    try:
        _look(path, create=create)
        return _open_book(path, create=create, wait_s=wait_s)
    except BookRefused as refused:
        why = _only_read(path, refused)
        if create or not why:
            raise
        try:
            return _open_to_read(path, why, wait_s)
        except BookRefused as no_way:
            raise (no_way if of_another(path) else refused) from None


def _only_read(path: Path, refused: BookRefused) -> str:
    """Why it cannot be written now, when there is no other reason to refuse it; else ""."""
    unwritable = path.is_file() and not (may_write(path) and may_write(path.absolute().parent))
    if not unwritable and not for_want_of_room(refused.__cause__):
        return ""
    text = FULL if is_full(path) else refused.faults[0].text
    return f"{text} {STILL}"


def _open_to_read(path: Path, why: str, wait_s: float) -> Book:
    if of_another(path):
        raise refused_of_another(path)
    with refusals(path):
        connection = engine_to_read(path, wait_s=wait_s).connect()
        try:
            sound = _version(path, connection) == len(versions.REVISIONS) and _sound(path, connection)
        except BaseException:
            connection.close()
            raise
    if sound:
        return Book(path, connection, only_read=why)
    connection.close()
    raise book_refused(path, why)


def _open_book(path: Path, *, create: bool, wait_s: float) -> Book:
    was = _which(path)
    with refusals(path):
        connection = engine(path, create=create, wait_s=wait_s).connect()
        try:
            _prepare(path, connection, create=create, wait_s=wait_s)
            _must_still_be(path, was)  # from here on no other file can take its place: it is held
        except BaseException:
            connection.close()
            raise
    return Book(path, connection)


def open_as_it_is(path: Path | str, *, wait_s: float = WAIT_S) -> tuple[Book, int]:
    """The book however damaged or old it is, to look through it, and its version. BookRefused: what is no book of ours,
    and what cannot even be begun to read."""
    path = Path(path)
    _must_be_its_own(path)
    _look(path, create=False)
    with refusals(path):
        connection = engine(path, create=False, wait_s=wait_s).connect()
        try:
            version = _version(path, connection)
        except BaseException:
            connection.close()
            raise
    if version == 0:
        connection.close()
        raise book_refused(path, "This file is empty; there is no book in it.")
    return Book(path, connection), version


def _must_be_its_own(path: Path) -> None:
    if of_another(path):
        raise refused_of_another(path)


def _must_still_be(path: Path, was: tuple[int, int] | None) -> None:
    if was is not None and _which(path) != was:
        raise book_refused(path, "Another book was put in this place just now; do it again.")


def _which(path: Path) -> tuple[int, int] | None:
    """Which file has that name now."""
    try:
        found = path.stat()
    except FileNotFoundError:
        return None
    return found.st_dev, found.st_ino


def _look(path: Path, *, create: bool) -> None:
    """What the file system alone can tell."""
    folder = path.absolute().parent
    if path.is_dir():
        raise book_refused(path, "This is a folder; name the book's file in it.")
    if not folder.is_dir():
        raise book_refused(path, f"There is no folder {folder}; make it first, or name another place.")
    if not path.exists() and not create:
        raise book_refused(path, f"There is no book here. Make one with: trued shop SHOP.toml --book {path}")
    if not may_write(folder):
        raise book_refused(path, f"Nothing can be written in the folder {folder}; allow it, or name another place.")
    if path.exists() and not may_write(path):
        raise book_refused(path, "The book can be read but not written; allow writing, or copy it to another place.")


def _prepare(path: Path, connection: Connection, *, create: bool, wait_s: float) -> None:
    version = _version(path, connection)
    if version == 0:
        if not create:
            raise book_refused(path, f"This file is empty. Make a book of it with: trued shop SHOP.toml --book {path}")
        make(path, connection)
    elif version < len(versions.REVISIONS):
        # Only here: the migrations take longer to load than all the rest.
        from trued.store.file.migrating import bring_up_to_date

        bring_up_to_date(path, connection, version, wait_s=wait_s)
    if version < len(versions.REVISIONS):  # else at the first row: a copy that is only looked at stays the very copy
        wait_ahead(connection)
    if not _sound(path, connection):
        raise book_refused(path, DAMAGED)


def _sound(path: Path, connection: Connection) -> bool:
    """Whether nothing is found damaged. Of a long book the long tables are left out, which would take seconds: damage
    there is found when the place is read, or when a copy is made."""
    now = _as_it_is(path)
    if _SOUND.get(path) == now:  # this program looked it through, and nothing was written since
        return True
    whole = path.stat().st_size <= LOOKED_THROUGH
    asked = ["1"] if whole else sorted(set(metadata.tables) - LONG)
    looked = (driver(connection).execute(f'PRAGMA quick_check("{what}")').fetchone() for what in asked)
    sound = all(found == ("ok",) for found in looked)
    if sound:
        _SOUND[path] = now
    else:
        _SOUND.pop(path, None)
    return sound


_SOUND: dict[Path, tuple[tuple[int, ...], ...]] = {}
"""How the files of a book were when it was last found sound: a page opens its book several times."""


def _as_it_is(path: Path) -> tuple[tuple[int, ...], ...]:
    """Which file it is, how long, and when it was last written; the same of the rows that wait beside it."""
    states = []
    for file in (path, beside(path)[0]):
        found = file.stat() if file.exists() else None
        if found is not None and found.st_size:
            states.append((found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns))
    return tuple(states)


def _version(path: Path, connection: Connection) -> int:
    """The book's version, 0 for an empty file; BookRefused for what is not a book, or is a newer one."""
    with connection.execution_options(**{WRITES: False}).begin():
        mark, version, tables = (connection.exec_driver_sql(asked).scalar_one() for asked in _HEAD)
        if (mark, version, tables) == (0, 0, 0):
            return 0
        if mark != versions.MARK:
            raise book_refused(path, "This is a database, but not a trued book; name another file.")
        revision = connection.exec_driver_sql(versions.ASK_REVISION).scalar()
    if version > len(versions.REVISIONS) or revision not in versions.REVISIONS:
        text = f"This book is of version {version} ({revision}); this program knows {len(versions.REVISIONS)} at most."
        raise book_refused(path, f"{text} Install a newer trued; the book was left as it is.")
    return versions.REVISIONS.index(revision) + 1
