"""What cannot be opened is refused in one sentence, and left exactly as it was."""

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from tests.store.samples import a_run, an_event, apart, fill, new_book, readings_of

from trued.errors import BookRefused
from trued.store import versions
from trued.store.opening import open_book

NOBODY = 65534


@contextmanager
def ordinary_user() -> Iterator[None]:
    """Whoever may do everything is asked to be somebody else for a while: else no folder is ever read-only."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that everybody can reach, with a book in it."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o777)
        new_book(folder).close()
        (folder / "shop.trued").chmod(0o666)
        yield folder
        folder.chmod(0o777)


def refusal(path: Path, *, create: bool = False) -> str:
    """The sentence; the file and its folder are as they were."""
    before = {p.name: p.read_bytes() for p in path.parent.glob("*") if p.is_file()} if path.parent.is_dir() else {}
    with pytest.raises(BookRefused) as refused:
        open_book(path, create=create, wait_s=0.05)
    after = {p.name: p.read_bytes() for p in path.parent.glob("*") if p.is_file()} if path.parent.is_dir() else {}
    assert after == before
    (fault,) = refused.value.faults
    assert fault.where == str(path)
    assert refused.value.status == 3
    return fault.text


def test_a_book_that_was_made_opens_again(tmp_path: Path) -> None:
    with new_book(tmp_path) as book:
        fill(book)
        rows, made = book.rows(), book.made()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["shop.trued"], "a closed book is one file"
    for create in (False, True):
        with open_book(str(tmp_path / "shop.trued"), create=create) as book:
            assert (book.rows(), book.made()) == (rows, made)


def test_a_book_is_durable_and_only_its_last_user_tidies_up(tmp_path: Path) -> None:
    with new_book(tmp_path) as book:
        settings = {
            name: book._connection.exec_driver_sql(f"PRAGMA {name}").scalar_one()
            for name in ("journal_mode", "synchronous", "foreign_keys", "recursive_triggers", "wal_autocheckpoint")
        }
    assert settings == {
        "journal_mode": "wal",
        "synchronous": 2,
        "foreign_keys": 1,
        "recursive_triggers": 1,
        "wal_autocheckpoint": 0,
    }


def test_missing(tmp_path: Path) -> None:
    assert refusal(tmp_path / "shop.trued").startswith("There is no book here. Make one with: trued shop")


def test_missing_folder(tmp_path: Path) -> None:
    assert "There is no folder" in refusal(tmp_path / "none" / "shop.trued", create=True)


def test_folder(tmp_path: Path) -> None:
    (tmp_path / "sub").mkdir()
    assert "This is a folder" in refusal(tmp_path / "sub", create=True)


def test_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    assert "There is no folder" in refusal(tmp_path / "file" / "shop.trued", create=True)


def test_empty(tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    path.touch()
    assert refusal(path).startswith("This file is empty.")
    open_book(path, create=True).close()
    open_book(path).close()


@pytest.mark.parametrize("create", [False, True])
def test_not_a_database(tmp_path: Path, create: bool) -> None:
    path = tmp_path / "shop.trued"
    path.write_text("a list of screws\n" * 100)
    assert "This is not a trued book" in refusal(path, create=create)


@pytest.mark.parametrize("create", [False, True])
def test_another_database(tmp_path: Path, create: bool) -> None:
    path = tmp_path / "shop.trued"
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE song (id)")
    assert "but not a trued book" in refusal(path, create=create)


def test_damaged_at_its_beginning(tmp_path: Path) -> None:
    new_book(tmp_path).close()
    path = tmp_path / "shop.trued"
    path.write_bytes(b"\x00" * 100 + path.read_bytes()[100:])
    assert "its beginning is damaged" in refusal(path)


def test_damaged_inside(tmp_path: Path) -> None:
    with new_book(tmp_path) as book:
        fill(book)
    path = tmp_path / "shop.trued"
    whole = bytearray(path.read_bytes())
    whole[8192 : len(whole) // 2] = b"\xff" * (len(whole) // 2 - 8192)
    path.write_bytes(whole)
    assert "The book is damaged" in refusal(path)


def test_cut_short(tmp_path: Path) -> None:
    with new_book(tmp_path) as book:
        fill(book)
    path = tmp_path / "shop.trued"
    path.write_bytes(path.read_bytes()[:20000])
    assert "The book is damaged" in refusal(path)


@pytest.mark.parametrize(
    "newer",
    [
        f"PRAGMA user_version = {len(versions.REVISIONS) + 1}",
        "UPDATE alembic_version SET version_num = '9999'",
    ],
)
def test_newer(tmp_path: Path, newer: str) -> None:
    new_book(tmp_path).close()
    path = tmp_path / "shop.trued"
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        file.execute(newer)
    text = refusal(path)
    assert "this program knows 1 at most" in text and "Install a newer trued" in text


def test_a_book_without_its_version(tmp_path: Path) -> None:
    new_book(tmp_path).close()
    path = tmp_path / "shop.trued"
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        file.execute("DROP TABLE alembic_version")
    assert "could not be used" in refusal(path)


def test_locked_by_another_writer(tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    with new_book(tmp_path), closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with open_book(path, wait_s=0.05) as book:
            assert book.events() == (), "reading goes on"
            with pytest.raises(BookRefused, match="locked: another program is writing"):
                book.add_event(an_event("one"))
            other.execute("ROLLBACK")
            assert book.add_event(an_event("one")), "and writing, as soon as the other is done"


def test_locked_for_everyone(tmp_path: Path) -> None:
    new_book(tmp_path).close()
    path = tmp_path / "shop.trued"
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode = EXCLUSIVE")
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(BookRefused, match="The book is locked"):
            open_book(path, wait_s=0.05)


def test_two_who_make_the_same_book_get_one(tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    make = "import sys; from trued.store.opening import open_book; open_book(sys.argv[1], create=True).close()"
    both = [apart(make, str(path)) for _ in range(2)]
    assert [(*process.communicate(), process.returncode) for process in both] == [("", "", 0)] * 2
    with open_book(path) as book:
        assert book.rows()["book"] == 1


def test_unwritable_folder(open_folder: Path) -> None:
    open_folder.chmod(0o555)
    with ordinary_user():
        assert "Nothing can be written in the folder" in refusal(open_folder / "other.trued", create=True)
        assert "Nothing can be written in the folder" in refusal(open_folder / "shop.trued")


def test_read_only_book(open_folder: Path) -> None:
    (open_folder / "shop.trued").chmod(0o444)
    with ordinary_user():
        assert "can be read but not written" in refusal(open_folder / "shop.trued")


def test_unreadable_book(open_folder: Path) -> None:
    (open_folder / "shop.trued").chmod(0o222)
    with ordinary_user(), pytest.raises(BookRefused, match="cannot be opened"):
        open_book(open_folder / "shop.trued")


def test_full_disk_while_making(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that may not grow stands in for the full disk: the database gives the same answer."""
    from trued.store import connecting

    monkeypatch.setattr(connecting, "_SETTINGS", (*connecting._SETTINGS, "max_page_count = 3"))
    path = tmp_path / "shop.trued"
    with pytest.raises(BookRefused, match="The disk is full: nothing of this was kept"):
        open_book(path, create=True)
    assert list(tmp_path.iterdir()) == []


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


def test_opening_a_book_of_today_loads_no_migrations(tmp_path: Path) -> None:
    new_book(tmp_path).close()
    told = "import sys; from trued.store.opening import open_book; open_book(sys.argv[1]).close();"
    told += "assert 'sqlalchemy' in sys.modules; assert 'alembic' not in sys.modules"
    told += "; assert 'sqlalchemy.orm' not in sys.modules"
    process = apart(told, str(tmp_path / "shop.trued"))
    assert (*process.communicate(), process.returncode) == ("", "", 0)
