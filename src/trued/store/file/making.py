"""Make a new book in one transaction: the newest tables at once, with the same stamp as the migrations leave."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, func, insert

from trued.store.file.connecting import WRITES
from trued.store.file.versions import MARK, REVISIONS
from trued.store.guards import guards
from trued.store.ids import new_id
from trued.store.tables import book, metadata

# As Alembic writes it, so that it finds its own table here.
_STAMP_TABLE = (
    "CREATE TABLE alembic_version"
    " ( version_num VARCHAR(32) NOT NULL, CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num) )"
)
_STAMP = "INSERT INTO alembic_version (version_num) VALUES (?)"


def make(path: Path, connection: Connection) -> None:
    """Fill the empty file at `path`; when that fails the file is gone again."""
    transaction = connection.execution_options(**{WRITES: True}).begin()  # here a second maker waits for the first
    try:
        with transaction:
            if connection.exec_driver_sql("SELECT count(*) FROM sqlite_master").scalar_one() == 0:
                _fill(connection)
    except BaseException:
        connection.close()
        if path.exists() and path.stat().st_size == 0:
            path.unlink()
        raise


def _fill(connection: Connection) -> None:
    metadata.create_all(connection, checkfirst=False)
    for guard in guards():
        connection.exec_driver_sql(guard)
    connection.exec_driver_sql(_STAMP_TABLE)
    stamp(connection, len(REVISIONS))
    connection.exec_driver_sql(_STAMP, (REVISIONS[-1],))
    connection.execute(
        insert(book).values(id=new_id(), name="", unit="in", made=func.current_timestamp(), counted_apart=0)
    )


def stamp(connection: Connection, version: int) -> None:
    """Write in the head of the file that it is a book, and of which version."""
    connection.exec_driver_sql(f"PRAGMA application_id = {MARK}")
    connection.exec_driver_sql(f"PRAGMA user_version = {version:d}")
