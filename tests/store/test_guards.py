"""What the book keeps for good can be neither changed nor deleted, whoever asks the file itself."""

import sqlite3
from collections.abc import Iterator

import pytest
from tests.store.samples import fill, new_book

from trued.store.file.connecting import raw
from trued.store.guards import ADDED_TO


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Iterator[sqlite3.Connection]:
    folder = tmp_path_factory.mktemp("guards")
    with new_book(folder) as book:
        fill(book)
        counts = book.rows()
    assert all(counts[table] for table in (*ADDED_TO, "plan")), "an empty table would refuse nothing"
    connection = raw(folder / "shop.trued", create=False, wait_s=1.0)
    yield connection
    connection.close()


@pytest.mark.parametrize("table", ADDED_TO)
def test_a_row_is_never_changed(file: sqlite3.Connection, table: str) -> None:
    with pytest.raises(sqlite3.IntegrityError, match=f"a row of {table} is never changed"):
        file.execute(f"UPDATE {table} SET id = id")  # noqa: S608 -- our own names


@pytest.mark.parametrize("table", [*ADDED_TO, "plan"])
def test_a_row_is_never_deleted(file: sqlite3.Connection, table: str) -> None:
    with pytest.raises(sqlite3.IntegrityError, match=f"a row of {table} is never deleted"):
        file.execute(f"DELETE FROM {table}")  # noqa: S608 -- our own names


def test_a_row_is_never_written_over(file: sqlite3.Connection) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="a row of event is never deleted"):
        file.execute("INSERT OR REPLACE INTO event SELECT * FROM event")


def test_a_plan_is_never_changed_and_never_thaws(file: sqlite3.Connection) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="a plan is never changed"):
        file.execute("UPDATE plan SET json = '{}'")
    file.execute("UPDATE plan SET frozen = '2026-03-02 10:00:00.000000'")
    with pytest.raises(sqlite3.IntegrityError, match="a plan freezes once"):
        file.execute("UPDATE plan SET frozen = NULL")
