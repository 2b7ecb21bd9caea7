"""A full disk keeps nothing by half. A file that may not grow stands in for it: the database answers the same."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from tests.store.refused import refusal
from tests.store.samples import a_run, new_book, readings_of

from trued.errors import BookRefused
from trued.store.file import connecting
from trued.store.opening import open_book


def test_full_disk_while_making(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that may not grow stands in for the full disk: the database gives the same answer."""
    monkeypatch.setattr(connecting, "_SETTINGS", (*connecting._SETTINGS, "max_page_count = 3"))
    path = tmp_path / "shop.trued"
    with pytest.raises(BookRefused, match="The disk is full: nothing of this was kept"):
        open_book(path, create=True)
    assert list(tmp_path.iterdir()) == []


def test_full_disk_while_making_leaves_a_file_that_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "shop.trued"
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        file.execute("CREATE TABLE gone (id)")
        file.execute("DROP TABLE gone")
    monkeypatch.setattr(connecting, "_SETTINGS", (*connecting._SETTINGS, "max_page_count = 3"))
    assert "The disk is full" in refusal(path, create=True)


def test_full_disk_while_writing(tmp_path: Path) -> None:
    with new_book(tmp_path) as book:
        first, second = a_run("first"), a_run("second", 1)
        book.add_run(first, readings_of(first, "10"))
        pages = book._connection.exec_driver_sql("PRAGMA page_count").scalar_one()
        book._connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")
        book._connection.rollback()
        many = readings_of(second, *map(str, range(400)))
        with pytest.raises(BookRefused, match="The disk is full: nothing of this was kept"):
            book.add_run(second, many)
        assert [stored.run for stored in book.runs()] == [first]
        book._connection.exec_driver_sql("PRAGMA max_page_count = 100000")
        book._connection.rollback()
        assert book.add_run(second, many), "there is room again"
        assert len(book.runs()) == 2
