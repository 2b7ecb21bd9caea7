"""Bring an older book up to date with Alembic, after laying a proven copy beside it."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection

from trued.store.file import versions
from trued.store.file.backing_up import copy_book
from trued.store.file.connecting import WRITES, driver, raw
from trued.store.file.making import stamp
from trued.store.file.refusals import book_refused


def bring_up_to_date(path: Path, connection: Connection, version: int, *, wait_s: float) -> None:
    """Migrate the book from `version` to the newest in one transaction: all of it, or nothing."""
    under = driver(connection)
    under.execute("PRAGMA foreign_keys = OFF")  # a table that is made anew would take its children along
    try:
        _bring(path, connection, version, wait_s)
    finally:
        under.execute("PRAGMA foreign_keys = ON")


def _bring(path: Path, connection: Connection, version: int, wait_s: float) -> None:
    with connection.execution_options(**{WRITES: True}).begin():
        if connection.exec_driver_sql(versions.ASK_REVISION).scalar() == versions.REVISIONS[-1]:
            return  # another program did it while this one waited
        source = raw(path, create=False, wait_s=wait_s)  # reads what is there while this connection keeps writers out
        try:
            copy_book(source, free_name(path, version))
        finally:
            source.close()
        upgrade(connection, "head")
        stamp(connection, len(versions.REVISIONS))
        if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
            raise book_refused(path, "The book could not be brought up to date; it was left as it is.")


def upgrade(connection: Connection, to: str) -> None:
    """Run the migrations up to the revision `to` inside the transaction of `connection`."""
    config = Config()
    config.set_main_option("script_location", str(versions.MIGRATIONS).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, to)


def free_name(path: Path, version: int) -> Path:
    """A name beside the book for the copy of its older version that no file has yet."""
    name = path.with_name(f"{path.name}.version-{version}")
    number = 2
    while name.exists():
        name = path.with_name(f"{path.name}.version-{version}-{number}")
        number += 1
    return name
