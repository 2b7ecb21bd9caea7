"""Take back what was typed wrong: a run, a move, an event or an answer. Nothing goes; it only counts no more."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.errors import InputRefused
from trued.shop.event import EVENTS
from trued.shop.feature import said
from trued.usecases.shop_now import opened
from trued.usecases.showing import reading_said

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.standing_rows import Row

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


def take_back(beginning: str, book: Path) -> Kept:
    """It counts no more from now on; what it was. InputRefused: nothing that stands is meant, or more than one."""
    from trued.store.ids import new_id
    from trued.store.rows import AnswerRow, EventRow, MoveRow

    with opened(book) as kept:
        row = one_row(beginning, kept)
        was = _kept(row, kept)
        if isinstance(row, MoveRow):
            kept.add_move(replace(row, id=new_id(), supersedes=row.id, withdrawn=True))
        elif isinstance(row, EventRow):
            kept.add_event(replace(row, id=new_id(), supersedes=row.id, withdrawn=True))
        elif isinstance(row, AnswerRow):
            kept.add_answer(replace(row, id=new_id(), supersedes=row.id, withdrawn=True))
        else:
            kept.add_run(replace(row, id=new_id(), supersedes=row.id, withdrawn=True))
        return was


def one_row(beginning: str, book: Book) -> Row:
    """The row in force whose id begins so. InputRefused: none, or more than one."""
    text = beginning.strip().lower()
    if len(text) < LEAST:
        raise InputRefused.of("id", beginning, f"Give at least the first {LEAST} signs of its id.")
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
    from trued.store.rows import AnswerRow, EventRow, MoveRow

    if isinstance(row, AnswerRow):
        return Kept(row.id, "answer", row.at, f"{row.code}: {row.word}")
    if isinstance(row, MoveRow):
        return Kept(row.id, "move", row.at, f"{said(row.feature)}: {row.direction.replace('-', ' ')} by {row.typed}")
    if isinstance(row, EventRow):
        return Kept(row.id, "event", row.at, EVENTS[row.kind].text + (f" ({row.subject})" if row.subject else ""))
    stored = book.run(row.id)
    typed = stored.as_typed if stored is not None else ()
    what = "measured parts" if row.check == "proof" else row.check
    return Kept(row.id, "run", row.taken, f"{what}: {', '.join(reading_said(text) for text in typed)}")
