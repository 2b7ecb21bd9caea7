"""What cannot be opened is refused in one sentence, and left exactly as it was."""

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from sqlalchemy import Connection
from tests.store.refused import refusal
from tests.store.samples import a_run, an_event, apart, fill, new_book

from trued.errors import BookRefused
from trued.store import opening
from trued.store.file import versions
from trued.store.file.connecting import driver, engine
from trued.store.file.making import make
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


def test_damaged_in_a_row(tmp_path: Path) -> None:
    """The tables can be read, and so can most rows: the check at the door finds it all the same."""
    with new_book(tmp_path) as book:
        fill(book)
    path = tmp_path / "shop.trued"
    _blank(path, "ix_run_taken_id")
    assert "The book is damaged" in refusal(path)


def _blank(path: Path, name: str) -> None:
    """Blank the first page of a table or index."""
    whole = bytearray(path.read_bytes())
    with closing(sqlite3.connect(path)) as file:
        page = file.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (name,)).fetchone()[0]
    whole[(page - 1) * 4096 + 8 : page * 4096] = bytes(4096 - 8)
    path.write_bytes(whole)


def test_a_long_book_is_not_looked_through_from_end_to_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Damage in its long tables is found where they are read; damage in the others at the door, as ever."""
    monkeypatch.setattr(opening, "LOOKED_THROUGH", 0)
    with new_book(tmp_path) as book:
        fill(book)
    path = tmp_path / "shop.trued"
    sound = path.read_bytes()
    _blank(path, "reading")
    with open_book(path) as book, pytest.raises(BookRefused, match="The book is damaged"):
        book.runs()
    path.write_bytes(sound)
    _blank(path, "move")
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
    assert f"this program knows {len(versions.REVISIONS)} at most" in text and "Install a newer trued" in text


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


def test_a_reader_in_the_way_of_the_write_ahead_file(tmp_path: Path) -> None:
    """A book that another program has set to a rollback journal, and is reading: read, not written."""
    new_book(tmp_path).close()
    path = tmp_path / "shop.trued"
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("PRAGMA journal_mode = DELETE")
        other.execute("BEGIN")
        other.execute("SELECT * FROM book").fetchall()
        with open_book(path, wait_s=0.05) as book:
            assert book.shop().name == ""
            with pytest.raises(BookRefused, match="The book is locked"):
                book.add_event(an_event("carried"))
            assert book.events() == ()
        other.execute("ROLLBACK")
        open_book(path).close()


def test_the_second_maker_finds_the_book_made(tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    with engine(path, create=True, wait_s=1.0).connect() as second:
        new_book(tmp_path).close()
        make(path, second)
    with open_book(path) as book:
        assert book.rows()["book"] == 1


def test_two_who_make_the_same_book_get_one(tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    code = "import sys; from trued.store.opening import open_book; open_book(sys.argv[1], create=True).close()"
    both = [apart(code, str(path)) for _ in range(2)]
    assert [(*process.communicate(), process.returncode) for process in both] == [("", "", 0)] * 2
    with open_book(path) as book:
        assert book.rows()["book"] == 1


def test_unwritable_folder(open_folder: Path) -> None:
    open_folder.chmod(0o555)
    with ordinary_user():
        assert "Nothing can be written in the folder" in refusal(open_folder / "other.trued", create=True)
        with open_book(open_folder / "shop.trued") as book, pytest.raises(BookRefused, match="Nothing can be written"):
            book.add_run(a_run("first"), ())
    assert [path.name for path in open_folder.iterdir()] == ["shop.trued"]


def test_read_only_book(open_folder: Path) -> None:
    (open_folder / "shop.trued").chmod(0o444)
    with ordinary_user():
        assert "can be read but not written" in refusal(open_folder / "shop.trued", create=True)
        with open_book(open_folder / "shop.trued") as book, pytest.raises(BookRefused, match="read but not written"):
            book.add_run(a_run("first"), ())


def test_unreadable_book(open_folder: Path) -> None:
    (open_folder / "shop.trued").chmod(0o222)
    with ordinary_user(), pytest.raises(BookRefused, match="cannot be opened"):
        open_book(open_folder / "shop.trued")


def test_opening_a_book_of_today_loads_no_migrations(tmp_path: Path) -> None:
    new_book(tmp_path).close()
    told = "import sys; from trued.store.opening import open_book; open_book(sys.argv[1]).close();"
    told += "assert 'sqlalchemy' in sys.modules; assert 'alembic' not in sys.modules"
    told += "; assert 'sqlalchemy.orm' not in sys.modules"
    process = apart(told, str(tmp_path / "shop.trued"))
    assert (*process.communicate(), process.returncode) == ("", "", 0)


def test_what_was_found_sound_is_looked_through_again_when_it_was_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with new_book(tmp_path) as book:
        fill(book)
    path = tmp_path / "shop.trued"
    with open_book(path):
        pass
    asked: list[Connection] = []

    def counted(connection: Connection) -> sqlite3.Connection:
        asked.append(connection)
        return driver(connection)

    monkeypatch.setattr("trued.store.opening.driver", counted)
    with open_book(path), open_book(path):
        assert asked == []
    _blank(path, "ix_run_taken_id")
    assert "The book is damaged" in refusal(path)
    assert "The book is damaged" in refusal(path)
    assert len(asked) == 2
