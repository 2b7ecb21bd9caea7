"""`trued undo`: what was typed wrong is as good as never typed, and stays in the book."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.calling import RACK, STRIP, Call

from trued.store.opening import open_book


def known(trued: Call, book: Path) -> object:
    return trued("standing", "--book", book, "--at", "2026-06-01T09:00", "--json").json["standings"]


@pytest.fixture
def ran(trued: Call, book: Path) -> Path:
    trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00")
    return book


@pytest.mark.parametrize(
    "wrong",
    [
        ("check", "five-cut", "fence_end=1.0120", "free_end=1.1050", "length=15", "--at", "2026-05-04T09:30"),
        ("moved", "fence-angle", "open", "0.02", "--at", "2026-05-04T09:30"),
        ("event", "saw-carried", "--at", "2026-05-04T09:30"),
    ],
)
def test_it_is_as_if_it_had_never_been_typed(trued: Call, ran: Path, wrong: tuple[str, ...]) -> None:
    before = known(trued, ran)
    trued(*wrong, "--book", ran)
    assert known(trued, ran) != before
    (last, *_) = trued("withdraw", "--book", ran, "--json").json["kept"]
    assert last["at"].startswith("2026-05-04T")
    taken = trued("withdraw", last["id"][:8], "--book", ran)
    assert taken.status == 0 and "stays in the book, and does not count" in " ".join(taken.out.split())
    assert known(trued, ran) == before
    again = trued("withdraw", last["id"][:8], "--book", ran, "--json")
    assert again.status == 2 and "taken back already, or never kept" in again.faults[0]


def test_nothing_is_deleted(trued: Call, ran: Path) -> None:
    (one,) = trued("withdraw", "--book", ran, "--json").json["kept"]
    with open_book(ran) as book:
        rows = book.rows()
    trued("withdraw", one["id"], "--book", ran)
    with open_book(ran) as book:
        stored = book.run(one["id"])
        assert stored is not None and len(stored.readings) == len(STRIP) and book.runs() == ()
        assert book.rows()["run"] == rows["run"] + 1 and book.rows()["reading"] == rows["reading"]


def test_measured_parts_taken_back_leave_the_tool_s_own_record(trued: Call, book: Path) -> None:
    trued("plan", RACK, "--book", book)
    first = trued("proof", RACK, "shelves alike=0.003", "--book", book, "--json").json
    assert first["record"]["judged"] == 1
    trued("withdraw", first["run"], "--book", book)
    with open_book(book) as kept:
        assert [told.fitted for told in kept.told() if told.fitted is not None] == []


@pytest.mark.parametrize(
    ("id", "said"), [("", "first 6 characters"), ("abc", "first 6 characters"), ("z%_xyz", "never kept")]
)
def test_what_names_nothing_is_refused(trued: Call, ran: Path, id: str, said: str) -> None:
    refused = trued("withdraw", id, "--book", ran, "--json")
    assert refused.status == 2 and said in refused.faults[0]


def test_an_empty_book(trued: Call, book: Path) -> None:
    assert "nothing to take back" in trued("withdraw", "--book", book).out
