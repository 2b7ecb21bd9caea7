"""A row of the book in words."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from trued.standing.feature import said
from trued.standing.history.event import EVENTS
from trued.usecases.showing import reading_said

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.kept.standing_rows import Row


def text_of_row(row: Row, book: Book) -> str:
    """What it is, and what was typed."""
    from trued.store.rows import AnswerRow, EventRow, MoveRow

    if isinstance(row, AnswerRow):
        return f"{row.code}: {row.word}"
    if isinstance(row, MoveRow):
        return f"{said(row.feature)}: {row.direction.replace('-', ' ')} by {row.typed}"
    if isinstance(row, EventRow):
        return EVENTS[row.kind].text + (f" ({row.subject})" if row.subject else "")
    stored = book.run(row.id)
    typed = stored.as_typed if stored is not None else ()
    what = "measured parts" if row.check == "proof" else row.check
    return f"{what}: {', '.join(reading_said(text) for text in typed)}"


def time_of(row: Row) -> datetime:
    """When it was, as told."""
    from trued.store.rows import RunRow

    return row.taken if isinstance(row, RunRow) else row.at


def kind_of_row(row: Row) -> str:
    """`run`, `move`, `event` or `answer`."""
    from trued.store.rows import AnswerRow, EventRow, MoveRow

    if isinstance(row, AnswerRow):
        return "answer"
    return "move" if isinstance(row, MoveRow) else "event" if isinstance(row, EventRow) else "run"
