"""Rows under old names come back under those of today, and stay in the file as they were written."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from tests.store.samples import a_move, a_run, an_event, id_of, minute, readings_of
from tests.store.test_answers import OLD

from trued.standing.history import old_names
from trued.standing.history.old_names import OLD_NAMES, OldName, table_of
from trued.store.book import Book
from trued.store.file.connecting import raw
from trued.store.opening import open_book
from trued.store.rows import MoveRow

NAMES = (
    OldName("check", "five-cut", "five-sides", facts=(("cuts", "5"),)),
    OldName("reading", "fence_end", "end", of="five-sides"),
    OldName("fact", "fence", "fence-side"),
    OldName("event", "saw-carried", "carried"),
    OldName("feature", "fence-angle", "square-angle"),
    OldName("direction", "open", "wider", of="square-angle"),
)


def test_every_kind_of_row(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    run = a_run("one", 1)
    book.add_run(run, readings_of(run, "10"))
    book.add_move(a_move("moved", 2))
    book.add_event(an_event("carried", 3))
    before = book.rows()
    monkeypatch.setattr(old_names, "_TABLE", table_of(NAMES))
    (stored,) = book.runs(check="five-sides")
    assert (stored.run.check, stored.run.facts) == ("five-sides", {"cuts": "5", "fence-side": "far"})
    assert stored.as_typed == ("end:caliper-1=10",)
    (move,) = book.moves(feature="sled.square-angle@0")
    assert (move.feature, move.direction) == ("sled.square-angle@0", "wider")
    assert [event.kind for event in book.events()] == ["carried"]
    event, again, first = book.newest(3)
    assert (event.id, again, first) == (id_of("carried"), move, stored.run)
    assert book.beginning_with(id_of("moved")[:8]) == (move,)
    assert not book.add_move(a_move("moved", 2)), "delivered once more under its old names it is the same row"
    assert book.rows() == before


def test_a_book_of_version_1_with_the_names_of_its_day(tmp_path: Path) -> None:
    """The tilt stop, the sight line, a detent whose angle nobody asked for; what is written now means what it says."""
    path = tmp_path / "shop.trued"
    shutil.copy(OLD, path)
    with closing(raw(path, create=False, wait_s=1.0)) as file:
        for n, (feature, way) in enumerate(
            (("saw.tilt-90", "away"), ("sled.sight-line", "toward-offcut"), ("sled.detent-angle@0", "open")), start=50
        ):
            unit = "mm" if "line" in feature else "rad"
            values = (f"{n:032x}", feature, f"2026-03-02 10:0{n % 10}:00", "1", 0.01, unit, way, 0, f"{n:032x}", n)
            file.execute(
                "INSERT INTO move (id, feature, at, typed, amount, unit, direction, withdrawn, chain, arrived)"
                " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                values,
            )
    with open_book(path) as book:
        later = MoveRow(id_of("new"), "sled.detent-angle@0", minute(500), "1", 0.01, "rad", "open")
        book.add_move(later)
        names = [move.feature for move in book.moves()]
        assert names == [
            "sled.fence-angle@0",
            "saw.bevel@0",
            "sled.sight-line@0",
            "sled.detent-angle@?",
            "sled.detent-angle@0",
        ]
        (found,) = book.beginning_with(f"{52:032x}"[:20] + f"{52:032x}"[20:])
        assert isinstance(found, MoveRow) and found.feature == "sled.detent-angle@?"
    with closing(sqlite3.connect(path)) as file:
        stored = [row[0] for row in file.execute("SELECT feature FROM move ORDER BY at")]
    assert stored[1:3] == ["saw.tilt-90", "sled.sight-line"], "the rows themselves stay as they are"


def test_the_table_of_the_program_is_what_the_reader_uses() -> None:
    assert table_of(OLD_NAMES) == old_names._TABLE
