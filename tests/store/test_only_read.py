"""A book that cannot be written is read, whole, and copied to another place; what is to be kept is refused in words.

A real full disk and a real read-only medium where this system lets a test have them (as root); else what they do to the
database: no file may be made beside the book. SQLite's manual, "Write-Ahead Logging", chapters 6 and 8.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.store.samples import a_run, new_book, readings_of

from trued.errors import BookRefused
from trued.store import opening
from trued.store.file.leftovers import refused_of_another
from trued.store.opening import open_book

FIRST, SECOND = a_run("first"), a_run("second", 1)


def killed_with_a_run(path: Path) -> None:
    """A writer that keeps a run and ends without closing: the run lies in the -wal alone."""
    code = (
        "import os, sys; from tests.store.samples import a_run, readings_of; from trued.store.opening import open_book;"
        "book = open_book(sys.argv[1]); run = a_run('first'); book.add_run(run, readings_of(run, '10')); os._exit(9)"
    )
    root = Path(__file__).parents[2]
    assert subprocess.run([sys.executable, "-c", code, str(path)], cwd=root, check=False).returncode == 9
    assert path.with_name(path.name + "-wal").stat().st_size > 0


def kept(path: Path, said: str = "It can still be read, and copied to another place") -> list[str]:
    """The runs that are read from it; that nothing can be kept is said."""
    with open_book(path) as book:
        with pytest.raises(BookRefused, match=said):
            book.add_run(SECOND, readings_of(SECOND, "11"))
        return [stored.run.id for stored in book.runs()]


def copied(path: Path, to: Path) -> list[str]:
    """The runs in a copy of it."""
    with open_book(path) as book:
        book.backup(to)
    with open_book(to) as copy:
        return [stored.run.id for stored in copy.runs()]


@pytest.mark.parametrize("left", [False, True], ids=["closed", "killed"])
def test_where_no_file_can_be_made_beside_it(tmp_path: Path, left: bool) -> None:
    """A link to nowhere under the name of the -shm stands in for the full disk: the file cannot be made either."""
    new_book(tmp_path).close()
    path = tmp_path / "shop.trued"
    if left:
        killed_with_a_run(path)
    path.with_name("shop.trued-shm").unlink(missing_ok=True)
    path.with_name("shop.trued-shm").symlink_to(tmp_path / "nowhere" / "at-all")
    there = [FIRST.id] if left else []
    assert kept(path) == there
    assert copied(path, tmp_path / "copy.trued") == there


def test_a_damaged_book_is_not_read_around_its_damage(tmp_path: Path) -> None:
    new_book(tmp_path).close()
    path = tmp_path / "shop.trued"
    content = bytearray(path.read_bytes())
    content[4096:8192] = bytes(4096)
    path.write_bytes(content)
    with pytest.raises(BookRefused, match="damaged"):
        open_book(path)


def test_rows_of_another_book_are_refused_there_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    new_book(tmp_path).close()
    monkeypatch.setattr(opening, "may_write", lambda _: False)
    monkeypatch.setattr(opening, "of_another", lambda _: False)
    assert kept(tmp_path / "shop.trued") == []
    monkeypatch.setattr(opening, "of_another", lambda _: True)
    with pytest.raises(BookRefused) as refused:
        open_book(tmp_path / "shop.trued")
    assert str(refused.value) == str(refused_of_another(tmp_path / "shop.trued"))


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A small disk of its own."""
    folder = tmp_path / "disk"
    folder.mkdir()
    if sys.platform != "linux" or not mounted("mount", "-t", "tmpfs", "-o", "size=4m", "none", str(folder)):
        pytest.skip("this system gives a test no disk")
    yield folder
    assert mounted("umount", str(folder))


def mounted(word: str, *more: str) -> bool:
    """Whether the system did it."""
    program = shutil.which(word)
    return program is not None and subprocess.run([program, *more], check=False, capture_output=True).returncode == 0


def only_read_from_now(folder: Path) -> None:
    """As a card with its switch set."""
    assert mounted("mount", "-o", "remount,ro", str(folder))


def fill(folder: Path) -> None:
    """Not one byte more."""
    with (folder / "filling").open("wb", buffering=0) as file:
        for size in (65_536, 4096, 1):
            try:
                while True:
                    file.write(bytes(size))
            except OSError:
                continue


@pytest.mark.parametrize("left", [False, True], ids=["closed", "killed"])
def test_a_disk_that_is_wholly_full(disk: Path, tmp_path: Path, left: bool) -> None:
    new_book(disk).close()
    path = disk / "shop.trued"
    if left:
        killed_with_a_run(path)
        path.with_name("shop.trued-shm").unlink()
    fill(disk)
    there = [FIRST.id] if left else []
    with open_book(path) as book, pytest.raises(BookRefused, match="The disk is full: nothing of this was kept"):
        book.add_run(SECOND, readings_of(SECOND, "11"))
    assert (
        kept(path, "The disk is full") == there
    )  # the rows of the -wal may be tidied in by now, which made room to open
    assert copied(path, tmp_path / "copy.trued") == there
    (disk / "filling").unlink()
    with open_book(path) as book:
        assert [stored.run.id for stored in book.runs()] == there
        assert book.add_run(SECOND, readings_of(SECOND, "11")), "there is room again"


def test_a_medium_that_is_only_read(disk: Path, tmp_path: Path) -> None:
    with new_book(disk) as book:
        book.add_run(FIRST, readings_of(FIRST, "10"))
    only_read_from_now(disk)
    assert kept(disk / "shop.trued") == [FIRST.id]
    assert copied(disk / "shop.trued", tmp_path / "copy.trued") == [FIRST.id]


def test_rows_beside_a_book_on_such_a_medium_are_never_left_out(disk: Path) -> None:
    """The -wal cannot be read there without its -shm; without the rows in it the book would be an older one."""
    new_book(disk).close()
    killed_with_a_run(disk / "shop.trued")
    (disk / "shop.trued-shm").unlink()
    only_read_from_now(disk)
    with pytest.raises(BookRefused):
        open_book(disk / "shop.trued")
