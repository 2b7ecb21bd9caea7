"""A kept book of every version that was ever released still opens, with all that is in it."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from tests.store.samples import (
    A_DEVICE,
    A_JOB,
    A_PLAN,
    A_STOCK,
    CUT_WRONG,
    PROOF,
    SHOP,
    SKIPPED,
    STATED,
    a_move,
    a_run,
    an_answer,
    an_event,
    id_of,
    minute,
    readings_of,
)

from trued.store.file import versions
from trued.store.opening import open_book
from trued.store.rows import HistoryRows, StockHeld, StoredRun, Told

BOOKS = Path(__file__).parent.parent / "data" / "books"


BEFORE_SKIPPED = ("version-1", "version-2")
"""Books that knew a ticket only done or open."""


def test_there_is_a_kept_book_of_every_version() -> None:
    kept = {path.stem for path in BOOKS.glob("*.trued")}
    assert kept == {f"version-{version}" for version in range(1, len(versions.REVISIONS) + 1)}


@pytest.mark.parametrize("kept", sorted(BOOKS.glob("*.trued")), ids=lambda path: path.stem)
def test_a_kept_book_opens_with_all_that_is_in_it(kept: Path, tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    shutil.copy(kept, path)
    first = a_run("first", device=A_DEVICE.id)
    second = a_run("second", 30, supersedes=first.id)
    with open_book(path) as book:
        assert book.shop() == SHOP
        assert book.history() == HistoryRows(
            (StoredRun(second, readings_of(second, "10", "12")), StoredRun(PROOF, readings_of(PROOF, "13"))),
            (a_move("opened", 10),),
            (an_event("carried", 20),),
            (an_answer("confirmed", 40),) if kept.stem != "version-1" else (),
        )
        assert book.run(first.id) == StoredRun(first, readings_of(first, "10", "11"))
        assert (book.jobs(), book.plans(), book.done(A_PLAN.id)) == ((A_JOB,), (A_PLAN,), ("T2", "T3"))
        assert book.marks(A_PLAN.id)[2:] == ((SKIPPED, CUT_WRONG) if kept.stem not in BEFORE_SKIPPED else ())
        assert set(book.told()) == {Told(STATED[0], True), Told(STATED[1], None)}
        assert (book.stock(), book.devices()) == ((StockHeld(A_STOCK, 3),), (A_DEVICE,))
        new = a_run("new", 90)
        assert book.add_run(new, readings_of(new, "15")), "and it can be written on"
        assert book.add_event(an_event("one", 91)) and book.add_answer(an_answer("one", 92))
        book.add_marks([replace(SKIPPED, id=id_of("another mark"), ticket="T6")])
        assert book.marks(A_PLAN.id)[-1].reason == SKIPPED.reason
    assert minute(90) == new.taken and id_of("new") == new.id
