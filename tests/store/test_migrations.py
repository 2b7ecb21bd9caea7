"""An older book is brought up to date, a copy of it is laid beside it, and a step that fails leaves it as it was."""

import re
import shutil
import sqlite3
from contextlib import closing
from itertools import pairwise
from pathlib import Path

import pytest
from tests.store.samples import SHOP, fill, new_book

from trued.errors import BookRefused
from trued.store import opening
from trued.store.file import connecting, migrating, versions
from trued.store.file.migrating import upgrade
from trued.store.guards import guards
from trued.store.opening import open_book

NOW = len(versions.REVISIONS)
"""The version of a book of this program."""

NEXT_STEP = '''"""A note for each event."""

import sqlalchemy as sa
from alembic import op

revision = "{newest}"
down_revision = "{newest_known}"


def upgrade() -> None:
    with op.batch_alter_table("fixture", recreate="always") as fixture:
        fixture.add_column(sa.Column("note", sa.Text(), nullable=False, server_default=""))
{more}
'''


def schema(path: Path) -> list[tuple[str, str]]:
    """Everything that the file is made of; blanks, the marks around the name of a table that was made
    anew, and the order of a table's constraints, mean nothing."""
    with closing(sqlite3.connect(path)) as file:
        rows = file.execute("SELECT name, coalesce(sql, '') FROM sqlite_master ORDER BY type, name").fetchall()
    return [
        (name, in_order(re.sub(r'^CREATE TABLE "(\w+)"', r"CREATE TABLE \1", " ".join(sql.split()))))
        for name, sql in rows
    ]


def in_order(sql: str) -> str:
    columns, *constraints = sql.removesuffix(" )").split(", CONSTRAINT ")
    return ", CONSTRAINT ".join([columns, *sorted(constraints)])


def migrated(path: Path) -> None:
    """A book made by the migrations alone, from nothing."""
    engine = connecting.engine(path, create=True, wait_s=1.0)
    with engine.connect() as connection, connection.begin():
        upgrade(connection, "head")


def add_step(monkeypatch: pytest.MonkeyPatch, folder: Path, more: str = "") -> None:
    """A program that knows one version more than ours."""
    steps = folder / "migrations"
    shutil.copytree(versions.MIGRATIONS, steps, ignore=shutil.ignore_patterns("__pycache__"))
    newest, known = f"{NOW + 1:04}", versions.REVISIONS[-1]
    text = NEXT_STEP.format(more=more, newest=newest, newest_known=known)
    (steps / "versions" / f"v{newest}_note.py").write_text(text)
    monkeypatch.setattr(versions, "MIGRATIONS", steps)
    monkeypatch.setattr(versions, "REVISIONS", (*versions.REVISIONS, newest))


def fixtures(path: Path) -> list[tuple[str, ...]]:
    with closing(sqlite3.connect(path)) as file:
        return file.execute("SELECT * FROM fixture ORDER BY id").fetchall()


def test_the_migrations_lead_to_the_very_tables_that_a_new_book_has(tmp_path: Path) -> None:
    new_book(tmp_path).close()
    migrated(tmp_path / "migrated")
    assert schema(tmp_path / "migrated") == schema(tmp_path / "shop.trued")
    with closing(sqlite3.connect(tmp_path / "migrated")) as file:
        assert file.execute(versions.ASK_REVISION).fetchall() == [(versions.REVISIONS[-1],)]


def test_every_step_is_known_in_its_order() -> None:
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(versions.MIGRATIONS))
    config.set_main_option("path_separator", "os")
    steps = [step.revision for step in ScriptDirectory.from_config(config).walk_revisions()]
    assert tuple(reversed(steps)) == versions.REVISIONS


def test_every_constraint_has_a_name(tmp_path: Path) -> None:
    new_book(tmp_path).close()
    sql = "\n".join(sql for _, sql in schema(tmp_path / "shop.trued"))
    for kind in ("PRIMARY KEY", "FOREIGN KEY", "UNIQUE (", "CHECK ("):
        assert sql.count(kind) == sum(sql.count(f"CONSTRAINT {name} {kind}") for name in names_in(sql))


def names_in(sql: str) -> set[str]:
    words = sql.split()
    return {after for before, after in pairwise(words) if before == "CONSTRAINT"}


def test_an_older_book_is_brought_up_to_date_and_a_copy_laid_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with new_book(tmp_path) as book:
        fill(book)
        history, rows = book.history(), book.rows()
    path = tmp_path / "shop.trued"
    old = fixtures(path)
    add_step(monkeypatch, tmp_path)
    with open_book(path) as book:
        assert (book.history(), book.rows(), book.shop()) == (history, rows, SHOP)
    assert fixtures(path) == [(*row, "") for row in old]
    assert fixtures(tmp_path / f"shop.trued.version-{NOW}") == old
    assert {sql for name, sql in schema(path) if name.endswith(("_stays", "_is_kept"))} <= set(guards())
    with closing(sqlite3.connect(path)) as file:
        assert file.execute("PRAGMA user_version").fetchall() == [(NOW + 1,)]
        assert file.execute("PRAGMA foreign_key_check").fetchall() == []


def test_a_book_that_is_up_to_date_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    new_book(tmp_path).close()
    add_step(monkeypatch, tmp_path)
    for _ in range(2):
        open_book(tmp_path / "shop.trued").close()
    assert [path.name for path in tmp_path.glob("*.version-*")] == [f"shop.trued.version-{NOW}"]


def test_a_step_that_fails_leaves_the_book_as_it_was_and_its_copy_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with new_book(tmp_path) as book:
        fill(book)
    path = tmp_path / "shop.trued"
    before = (schema(path), fixtures(path))
    add_step(monkeypatch, tmp_path, '    op.execute("INSERT INTO nowhere VALUES (1)")')
    for name in (f"shop.trued.version-{NOW}", f"shop.trued.version-{NOW}-2"):
        with pytest.raises(BookRefused, match="could not be used"):
            open_book(path)
        assert (schema(path), fixtures(path)) == before
        assert (schema(tmp_path / name), fixtures(tmp_path / name)) == before


def test_a_step_that_leaves_rows_without_what_they_point_at_is_undone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with new_book(tmp_path) as book:
        fill(book)
    path = tmp_path / "shop.trued"
    before = schema(path)
    add_step(monkeypatch, tmp_path, '    op.execute("DELETE FROM device")')
    with pytest.raises(BookRefused, match="could not be brought up to date"):
        open_book(path)
    assert schema(path) == before


def test_whoever_waited_finds_the_work_done(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two programs see the older version; the second gets its turn when the first has finished."""
    new_book(tmp_path).close()
    path = tmp_path / "shop.trued"
    add_step(monkeypatch, tmp_path)
    open_book(path).close()
    with connecting.engine(path, create=False, wait_s=1.0).connect() as connection:
        migrating.bring_up_to_date(path, connection, NOW, wait_s=1.0)
    assert [path.name for path in tmp_path.glob("*.version-*")] == [f"shop.trued.version-{NOW}"]
    assert opening.open_book(path).close() is None
