"""A copy is made while the book is in use, and has its name only once it is proven whole."""

import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest
from tests.store.samples import a_run, fill, readings_of

from trued.errors import InputRefused
from trued.store.book import Book
from trued.store.file import backing_up
from trued.store.opening import open_book


def test_a_copy_is_a_book_with_the_same_rows(book: Book, tmp_path: Path) -> None:
    fill(book)
    copied = book.backup(tmp_path / "copy.trued")
    assert copied.path == tmp_path / "copy.trued"
    assert copied.rows == book.rows()
    with open_book(copied.path) as copy:
        assert copy.history() == book.history()
        assert copy.shop() == book.shop()


def test_a_copy_leaves_nothing_else_behind(book: Book, tmp_path: Path) -> None:
    to = tmp_path / "copies"
    to.mkdir()
    book.backup(str(to / "copy.trued"))
    assert [path.name for path in to.iterdir()] == ["copy.trued"]


def test_a_copy_while_another_writes_is_whole(book: Book, tmp_path: Path) -> None:
    stop = threading.Event()
    written = []

    def write() -> None:
        with open_book(book.path) as other:
            while not stop.is_set():
                run = a_run(f"run {len(written)}", len(written))
                written.append(other.add_run(run, readings_of(run, "1", "2", "3")))

    writer = threading.Thread(target=write)
    writer.start()
    try:
        while len(written) < 3:
            pass
        for n in range(3):
            rows = book.backup(tmp_path / f"copy {n}").rows
            assert rows["run"] >= 3
            assert rows["reading"] == 3 * rows["run"]
    finally:
        stop.set()
        writer.join()


def test_a_file_is_never_written_over(book: Book, tmp_path: Path) -> None:
    there = tmp_path / "holiday.jpg"
    there.write_bytes(b"a picture")
    with pytest.raises(InputRefused, match="There is a file of this name"):
        book.backup(there)
    with pytest.raises(InputRefused, match="There is a file of this name"):
        book.backup(book.path)
    assert there.read_bytes() == b"a picture"


def test_a_folder_that_is_not_there(book: Book, tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match="There is no folder"):
        book.backup(tmp_path / "none" / "copy.trued")


def test_a_folder_that_cannot_be_written(book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(backing_up, "may_write", lambda _: False)
    with pytest.raises(InputRefused, match="Nothing can be written"):
        book.backup(tmp_path / "copy.trued")


def test_a_copy_that_lacks_a_row_is_thrown_away(book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that loses what it was given: between copying and proving a row goes."""
    fill(book)
    whole = backing_up._copy

    def losing(source: sqlite3.Connection, to: Path) -> object:
        rows = whole(source, to)
        with closing(sqlite3.connect(to, isolation_level=None)) as copy:
            copy.execute("DROP TRIGGER event_stays")
            copy.execute("DELETE FROM event")
        return rows

    monkeypatch.setattr(backing_up, "_copy", losing)
    to = tmp_path / "copies"
    to.mkdir()
    with pytest.raises(InputRefused, match="thrown away"):
        book.backup(to / "copy.trued")
    assert list(to.iterdir()) == []


def test_a_copy_that_is_damaged_is_thrown_away(book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fill(book)
    whole = backing_up._copy

    def damaging(source: sqlite3.Connection, to: Path) -> object:
        rows = whole(source, to)
        to.write_bytes(b"\xff" * 50)
        return rows

    monkeypatch.setattr(backing_up, "_copy", damaging)
    with pytest.raises(InputRefused, match=r"The copy could not be made .*; the book is as it was"):
        book.backup(tmp_path / "copy.trued")
    assert not (tmp_path / "copy.trued").exists()
