"""A copy each day that something came, proved before an older one goes."""

from __future__ import annotations

import os
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.errors import BookRefused, InputRefused
from trued.store.opening import open_book
from trued.usecases.book import daily_copy as daily
from trued.usecases.book.daily_copy import copies_of, daily_copy, folder_of
from trued.usecases.book.ready_book import ready_book
from trued.usecases.book.rescue import verify
from trued.usecases.changes.record_event import record_event
from trued.web.copying import Copying

DAY = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book."""
    path = tmp_path / "shop.trued"
    ready_book(path, make=True)
    return path


def a_day(book: Path, number: int) -> Path | None:
    """Something happens, and the copy of that day; file times are whole seconds on some disks."""
    record_event("saw-carried", "", book, at=DAY + timedelta(days=number))
    later = time.time() + 10 * number
    os.utime(book, (later, later))
    return daily_copy(book, DAY + timedelta(days=number), kept=3)


def test_one_a_day_and_the_newest_three_stay(book: Path) -> None:
    made = [a_day(book, number) for number in range(6)]
    assert all(made) and list(copies_of(book)) == made[-3:]
    assert daily_copy(book, DAY + timedelta(days=5)) is None
    for number, copy in enumerate(copies_of(book), 4):
        assert verify(copy).standings is not None
        with open_book(copy) as kept:
            assert len(kept.events()) == number


def test_nothing_new_is_not_copied_again(book: Path) -> None:
    assert daily_copy(book, DAY) is not None
    assert daily_copy(book, DAY + timedelta(days=1)) is None


def test_other_files_of_the_folder_stay(book: Path) -> None:
    folder_of(book).mkdir()
    names = ("shop-2026-01-01.trued.old", "shop-mine.trued", "other-2026-01-01.trued")
    others = [folder_of(book) / name for name in names]
    for path in others:
        path.write_text("mine")
    for number in range(5):
        a_day(book, number)
    assert all(path.read_text() == "mine" for path in others) and len(copies_of(book)) == 3


def test_where_none_can_be_made_the_old_ones_stay(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for number in range(4):
        a_day(book, number)
    before = copies_of(book)

    def full(book: Path, to: Path) -> None:
        raise InputRefused.of(str(to), "", "The disk is full.")

    monkeypatch.setattr(daily, "back_up", full)
    with pytest.raises(InputRefused):
        a_day(book, 9)
    assert copies_of(book) == before


def test_a_damaged_book_replaces_no_good_copy(book: Path) -> None:
    for number in range(4):
        a_day(book, number)
    before = copies_of(book)
    book.write_bytes(b"SQLite format 3\0" + os.urandom(8000))
    with pytest.raises((BookRefused, InputRefused)):
        daily_copy(book, DAY + timedelta(days=9), kept=3)
    assert copies_of(book) == before


def test_the_pages_make_it_and_say_when_they_cannot(book: Path, capfd: pytest.CaptureFixture[str]) -> None:
    copying = Copying(book)
    copying.start()
    for _ in range(200):
        if copies_of(book):
            break
        time.sleep(0.05)
    copying.stop()
    assert len(copies_of(book)) == 1
    copies_of(book)[0].unlink()
    book.unlink()
    gone = Copying(book)
    gone.start()
    time.sleep(0.5)
    gone.stop()
    said = capfd.readouterr().err
    assert said.count("No copy of the book was made today.") == 1 and "Traceback" not in said
