"""A copy comes back whole over whatever a killed program left, or not at all."""

import os
import random
import shutil
import sqlite3
import time
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from tests.store.samples import a_run, an_event, apart, fill, id_of, new_book, readings_of
from tests.store.test_killed import killed_while_writing

from trued.errors import BookRefused, InputRefused
from trued.store import restoring
from trued.store.book import Book
from trued.store.file import leftovers
from trued.store.opening import open_book
from trued.store.restoring import restore_book
from trued.store.rows import HistoryRows, StateRow

AT = datetime(2026, 3, 3, 10, 30, tzinfo=UTC)
LEFT = "refused for what was left"
ASIDE = "shop.trued.set-aside-2026-03-03-103000"

RESTORER = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from trued.store.restoring import restore_book
print("ready", flush=True)
restore_book(Path(sys.argv[1]), Path(sys.argv[2]), datetime(2026, 3, 3, 10, 30, tzinfo=UTC))
"""

READER = """
import sys, time
from trued.store.opening import open_book
with open_book(sys.argv[1]) as book:
    print("open", flush=True)
    time.sleep(60)
"""

WRITER = """
import sqlite3, sys, time
book = sqlite3.connect(sys.argv[1], isolation_level=None)
book.execute("BEGIN IMMEDIATE")
print("open", flush=True)
time.sleep(60)
"""


def filled(folder: Path) -> tuple[Path, Path]:
    """A book, and a copy of it made before it went on."""
    with new_book(folder) as book:
        fill(book)
        copy = book.backup(folder / "copy.trued").path
        book.add_event(an_event("later", 200))
    return folder / "shop.trued", copy


def history_in(path: Path) -> HistoryRows:
    with open_book(path) as book:
        return book.history()


def as_it_is(path: Path) -> HistoryRows | str:
    """What a person finds there; `LEFT` when it is refused for the files of the old book."""
    try:
        return history_in(path)
    except BookRefused as refused:
        return LEFT if "shop.trued-wal and shop.trued-shm belong to the one" in str(refused) else str(refused)


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_the_copy_is_the_book_and_the_old_one_is_set_aside(tmp_path: Path) -> None:
    path, copy = filled(tmp_path)
    bytes_of_copy, old = copy.read_bytes(), history_in(path)
    done = restore_book(copy, path, AT)
    assert done.path == path and done.rows["event"] == 1
    assert [one.name for one in done.aside] == [ASIDE]
    assert copy.read_bytes() == bytes_of_copy
    assert names(tmp_path) == {"shop.trued", "copy.trued", ASIDE}
    assert history_in(done.aside[0]) == old != history_in(path)
    assert history_in(path) == history_in(copy)
    restore_book(copy, path, AT)
    assert f"{ASIDE}-2" in names(tmp_path)


def test_what_a_killed_program_left_is_set_aside_with_it_and_reads_as_before(tmp_path: Path) -> None:
    path, copy = filled(tmp_path)
    acknowledged = killed_while_writing(path, 0.05)
    assert path.with_name("shop.trued-wal").stat().st_size > 0
    done = restore_book(copy, path, AT)
    assert [one.name for one in done.aside] == [ASIDE, f"{ASIDE}-wal", f"{ASIDE}-shm"]
    assert history_in(path) == history_in(copy)
    assert acknowledged <= {stored.run.id for stored in history_in(done.aside[0]).runs}


def test_a_book_comes_to_a_place_where_none_is(tmp_path: Path) -> None:
    _, copy = filled(tmp_path)
    (tmp_path / "new").mkdir()
    done = restore_book(copy, tmp_path / "new" / "shop.trued", AT)
    assert done.aside == () and history_in(done.path) == history_in(copy)


def test_a_damaged_book_is_replaced_unread(tmp_path: Path) -> None:
    path, copy = filled(tmp_path)
    path.write_bytes(b"\xff" * 5000)
    done = restore_book(copy, path, AT)
    assert done.aside[0].read_bytes() == b"\xff" * 5000
    assert history_in(path) == history_in(copy)


def test_a_copy_put_over_the_rows_of_another_is_refused_25_times_of_25(tmp_path: Path) -> None:
    """The rescue that a person tries first: cp copy.trued shop.trued. The database alone mixes the two."""
    path, copy = filled(tmp_path)
    shutil.copyfile(copy, tmp_path / "twin.trued")
    new = history_in(tmp_path / "twin.trued")
    killed_while_writing(path, 0.3)
    rows, index = (path.with_name(f"shop.trued{end}").read_bytes() for end in ("-wal", "-shm"))
    for n in range(25):  # killed at 25 moments: what waited was so long
        path.with_name("shop.trued-wal").write_bytes(rows[: len(rows) * (n + 1) // 25])
        path.with_name("shop.trued-shm").write_bytes(index)
        shutil.copyfile(copy, path)
        left = {one.name: one.read_bytes() for one in tmp_path.iterdir() if one.name.startswith("shop.trued")}
        with pytest.raises(BookRefused) as refused:
            open_book(path)
        for word in (
            "shop.trued-wal",
            "shop.trued-shm",
            "would spoil shop.trued",
            f"trued restore {path} --book {path}",
        ):
            assert word in str(refused.value)
        assert {name: (tmp_path / name).read_bytes() for name in left} == left
        restore_book(copy if n % 2 else path, path, AT)  # as told, or with the copy itself
        assert history_in(path) == new
        assert path.read_bytes()[:16] == b"SQLite format 3\0"


def test_the_database_alone_would_mix_them(tmp_path: Path) -> None:
    """That the refusal is needed: without it the copy shows rows that came after it, or cannot be read."""
    path, copy = filled(tmp_path)
    killed_while_writing(path, 0.02)
    shutil.copyfile(copy, path)
    try:
        with closing(sqlite3.connect(path)) as mixed:
            runs = mixed.execute("SELECT count(*) FROM run").fetchone()[0]
    except sqlite3.DatabaseError:
        return
    assert runs > len(history_in(copy).runs)


def test_a_copy_that_was_looked_at_is_still_known(tmp_path: Path) -> None:
    path, copy = filled(tmp_path)
    bytes_of_copy = copy.read_bytes()
    new = history_in(copy)
    with open_book(copy) as book:
        book.keep_state(StateRow("sled.fence-angle@0", AT, id_of("first"), "{}"))
        assert book.state("sled.fence-angle@0") is None
    assert copy.read_bytes() == bytes_of_copy
    killed_while_writing(path, 0.02)
    shutil.copyfile(copy, path)
    assert as_it_is(path) == LEFT
    restore_book(path, path, AT)
    assert history_in(path) == new


def test_a_copy_that_is_gone_on_with_is_a_book_in_use(tmp_path: Path) -> None:
    path, copy = filled(tmp_path)
    restore_book(copy, path, AT)
    acknowledged = killed_while_writing(path, 0.05)
    assert path.with_name("shop.trued-wal").stat().st_size > 0
    assert acknowledged <= {stored.run.id for stored in history_in(path).runs}


def test_what_is_written_to_a_book_that_was_replaced_is_refused(tmp_path: Path) -> None:
    """A program that looked at a copy in its place, and writes after another book was put there."""
    path, copy = filled(tmp_path)
    restore_book(copy, path, AT)
    new = history_in(path)
    looking = open_book(path)
    other = tmp_path / "other"
    shutil.copyfile(copy, other)
    other.replace(path)
    with looking, pytest.raises(BookRefused):
        looking.add_event(an_event("lost", 300))
    assert history_in(path) == new


def test_a_book_in_use_beside_its_own_rows_is_no_copy(tmp_path: Path) -> None:
    path, _ = filled(tmp_path)
    killed_while_writing(path, 0.02)
    assert len(history_in(path).runs) > 2  # its own rows: taken in, not refused
    killed_while_writing(path, 0.02)
    with pytest.raises(InputRefused, match="copy it with trued backup first"):
        restore_book(path, tmp_path / "other.trued", AT)


@pytest.mark.parametrize("doing", [READER, WRITER])
def test_refused_while_another_program_has_it_open_or_writes(tmp_path: Path, doing: str) -> None:
    path, copy = filled(tmp_path)
    with apart(doing, str(path)) as other:
        assert other.stdout is not None and other.stdout.readline() == "open\n"
        before = names(tmp_path)
        with pytest.raises(BookRefused, match=r"Another program has this book open.*Nothing was changed"):
            restore_book(copy, path, AT, wait_s=0.2)
        assert names(tmp_path) == before
        other.kill()
    restore_book(copy, path, AT)
    assert history_in(path) == history_in(copy)


def test_a_copy_that_is_not_sound_is_not_taken(tmp_path: Path) -> None:
    path, copy = filled(tmp_path)
    before = path.read_bytes()
    spoilt = tmp_path / "spoilt.trued"
    shutil.copyfile(copy, spoilt)
    with closing(sqlite3.connect(spoilt, isolation_level=None)) as book:
        book.execute("DROP TRIGGER event_is_kept")
        book.execute("UPDATE event SET at = 'yesterday'")
    text = tmp_path / "text.trued"
    text.write_text("a picture of the saw " * 100)
    cut = tmp_path / "cut.trued"
    cut.write_bytes(copy.read_bytes()[:20000])
    for bad, word in ((spoilt, "This row cannot be read"), (text, "not a trued book"), (cut, "damaged")):
        with pytest.raises(BookRefused, match=word) as refused:
            restore_book(bad, path, AT)
        assert refused.value.faults[0].where == str(bad)
        assert path.read_bytes() == before and not any(".restore-" in name for name in names(tmp_path))
    for bad, to, word in (
        (tmp_path / "none", path, "no such file"),
        (path, path, "the book itself"),
        (copy, tmp_path / "none" / "shop.trued", "There is no folder"),
        (copy, tmp_path, "This is a folder"),
    ):
        with pytest.raises(InputRefused, match=word):
            restore_book(bad, to, AT)


def test_a_disk_without_second_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object) -> None:
        raise OSError("no links here")

    monkeypatch.setattr(os, "link", none)
    path, copy = filled(tmp_path)
    old = history_in(path)
    done = restore_book(copy, path, AT)
    assert history_in(done.aside[0]) == old and history_in(path) == history_in(copy)


@pytest.mark.parametrize("step", range(1, 9))
def test_stopped_at_each_step_it_is_the_old_book_or_the_copy_or_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: int
) -> None:
    """Each call that touches the disk after the proof fails once, as if the program had ended there."""
    path, copy = filled(tmp_path)
    killed_while_writing(path, 0.02)
    shutil.copytree(tmp_path, tmp_path / "twin")
    old, new = history_in(tmp_path / "twin" / "shop.trued"), history_in(copy)
    calls = iter(range(1, 1000))

    class Ended(BaseException):
        pass

    def ends(real: object) -> object:
        def call(*words: object, **named: object) -> object:
            if next(calls) == step:
                raise Ended
            return real(*words, **named)  # type: ignore[operator]

        return call

    monkeypatch.setattr(restoring, "_second_name", ends(restoring._second_name))
    monkeypatch.setattr(restoring, "on_disk", ends(leftovers.on_disk))
    monkeypatch.setattr(Path, "unlink", ends(Path.unlink))
    with pytest.raises(Ended):
        restore_book(copy, path, AT)
    monkeypatch.undo()
    assert as_it_is(path) in (old, new, LEFT)
    restore_book(copy, path, AT)
    assert history_in(path) == new


def test_killed_at_any_moment_it_is_the_old_book_or_the_copy_or_refused(tmp_path: Path) -> None:
    moments = random.Random(20260304)
    ends = {"old": 0, "copy": 0, "refused": 0}
    for n in range(4):
        folder = tmp_path / str(n)
        folder.mkdir()
        path, copy = filled(folder)
        killed_while_writing(path, 0.01)
        shutil.copytree(folder, folder / "twin")
        old, new = history_in(folder / "twin" / "shop.trued"), history_in(copy)
        with apart(RESTORER, str(copy), str(path)) as restorer:
            assert restorer.stdout is not None and restorer.stdout.readline() == "ready\n"
            time.sleep(moments.uniform(0.0, 0.15))
            restorer.kill()
        found = as_it_is(path)
        assert found in (old, new, LEFT)
        ends["refused" if found == LEFT else "copy" if found == new else "old"] += 1
        restore_book(copy, path, AT)
        assert history_in(path) == new
    assert sum(ends.values()) == 4


def test_a_copy_of_an_older_version_is_brought_up_to_date(tmp_path: Path) -> None:
    older = next((Path(__file__).parents[1] / "data" / "books").glob("*1*.trued"))
    before = older.read_bytes()
    done = restore_book(older, tmp_path / "shop.trued", AT)
    assert older.read_bytes() == before and names(tmp_path) == {"shop.trued"}
    with open_book(done.path) as book:
        assert book.look_through().faults == ()
    assert names(tmp_path) == {"shop.trued"}


def test_another_book_put_there_while_opening_is_not_read_by_half(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    from trued.store import opening

    run = a_run("one")
    book.add_run(run, readings_of(run, "1"))
    book.close()
    prepare = opening._prepare

    def slow(path: Path, *words: object, **named: object) -> None:
        prepare(path, *words, **named)  # type: ignore[arg-type]
        other = path.with_name("other")
        shutil.copyfile(path, other)
        other.replace(path)

    monkeypatch.setattr(opening, "_prepare", slow)
    with pytest.raises(BookRefused, match="Another book was put in this place just now"):
        open_book(book.path)
