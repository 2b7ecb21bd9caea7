"""Take back what was typed wrong: a run, a move, an event or an answer. Nothing goes; it only counts no more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.errors import InputRefused
from trued.usecases.questions.asking import settle
from trued.usecases.questions.once import Place, Sent, place_of
from trued.usecases.questions.row_text import kind_of_row, text_of_row, time_of
from trued.usecases.shop.shop_now import opened

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.kept.standing_rows import Row

SHOWN = 10
LEAST = 6  # signs of an id; fewer may well be another's


@dataclass(frozen=True, slots=True)
class Kept:
    """One thing that is in the book: its id, what it is (`run`, `move`, `event`, `answer`), when, and in words."""

    id: str
    kind: str
    at: datetime
    text: str


def last_kept(book: Path, most: int = SHOWN) -> tuple[Kept, ...]:
    """What stands of the latest times, the newest first."""
    with opened(book) as kept:
        return tuple(_kept(row, kept) for row in kept.newest(most))


def one_kept(beginning: str, book: Path) -> Kept:
    """The one thing that stands and whose id begins so. InputRefused: none, or more than one."""
    with opened(book) as kept:
        return _kept(one_row(beginning, kept), kept)


def take_back(beginning: str, book: Path, *, key: str | None = None, answers: Sequence[str] = ()) -> Kept:
    """It counts no more from now on; what it was. InputRefused: nothing that stands is meant, or more than one.

    `key` is made by the writer: the same key twice takes back once, and says the same.
    """
    with opened(book) as kept:
        place = _place(key, beginning.strip().lower(), kept)
        if place.there is not None:
            found = kept.under(place.there.supersedes or place.there.id)
            return _kept(place.there if found is None else found[0], kept)
        row = one_row(beginning, kept)
        was = _kept(row, kept)
        settle(place.questions, answers)
        _keep(kept, replace(row, id=place.id, supersedes=row.id, withdrawn=True))
        return was


def _place(key: str | None, beginning: str, book: Book) -> Place[Row]:
    def look(id: str) -> Sent[Row] | None:
        found = book.under(id)
        return None if found is None else Sent(found[0], found[0])

    def same(row: Row) -> bool:
        return row.withdrawn and (row.supersedes or "").startswith(beginning)

    return place_of(key, beginning, look, same, lambda row: text_of_row(row, book), replaces=lambda _: False)


def _keep(book: Book, row: Row) -> None:
    from trued.store.rows import AnswerRow, EventRow, MoveRow

    if isinstance(row, MoveRow):
        book.add_move(row)
    elif isinstance(row, EventRow):
        book.add_event(row)
    elif isinstance(row, AnswerRow):
        book.add_answer(row)
    else:
        book.add_run(row)


def one_row(beginning: str, book: Book) -> Row:
    """The row in force whose id begins so. InputRefused: none, or more than one."""
    text = beginning.strip().lower()
    if len(text) < LEAST:
        raise InputRefused.of("id", beginning, f"Give at least the first {LEAST} characters of its id.")
    found = book.beginning_with(text)
    if not found:
        raise InputRefused.of(
            "id", beginning, "Nothing in force has that id: it was taken back already, or never kept."
        )
    if len(found) > 1:
        ids = ", ".join(row.id[:12] for row in found)
        raise InputRefused.of("id", beginning, f"More than one thing begins so; give more of it: {ids}.")
    return found[0]


def _kept(row: Row, book: Book) -> Kept:
    return Kept(row.id, kind_of_row(row), time_of(row), text_of_row(row, book))
