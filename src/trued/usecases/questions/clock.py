"""Times that cannot all be right: a clock that went back, rows of the future, and what is told late.

The time that is told orders the rows. So a wrong clock gives a wrong order, and a row of the future counts for nothing:
both are asked about. Rows that a clock dated ahead are mended by rows that correct them, as far apart as they were.
Rows of one moment are in the order in which they came in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from trued.errors import InputRefused, Question
from trued.standing.history.history import ShopEvent
from trued.store.rows import AnswerRow, EventRow, MoveRow, RunRow
from trued.usecases.questions.asking import Settled, answer_of
from trued.usecases.questions.row_text import text_of_row, time_of

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.kept.standing_rows import Row
    from trued.usecases.shop.shop_now import ShopNow

CLOCK_BACK, ROWS_AHEAD, LATE_ENTRY = "clock-back", "rows-ahead", "late-entry"
ROWS, CLOCK, BEFORE, AFTER = "rows", "clock", "before", "after"

SET_IT = "Set this computer's clock right, then do this again; or tell the time. Nothing was kept."
_CHOICE_ROWS = (ROWS, "The clock was ahead when that was written: it happened before now")


@dataclass(frozen=True, slots=True)
class TimeAsked:
    """What must be answered about the time of a row before it is kept.

    now: its time as told, or by the clock. ahead: rows of the book that lie after the clock's time. between: the last
    move or event of the same thing that lies after the time that was told.
    """

    now: datetime
    questions: tuple[Question, ...] = ()
    ahead: tuple[Row, ...] = ()
    between: datetime | None = None

    def moment(self, settled: Sequence[Settled]) -> datetime:
        """The time to keep it under, by what was answered.

        InputRefused: this computer's clock is wrong, which only the person can mend.
        """
        if answer_of(settled, CLOCK_BACK) == CLOCK:
            raise InputRefused.of("", "", SET_IT)
        if answer_of(settled, LATE_ENTRY) == AFTER and self.between is not None:
            return self.between + timedelta(microseconds=1)
        return self.now

    def mend(self, book: Book, settled: Sequence[Settled]) -> None:
        """Put back the rows that were dated ahead, where that was answered: just before the new one is kept."""
        if answer_of(settled, CLOCK_BACK) == ROWS:
            put_back(book, self.ahead, self.now)


def time_asked(
    book: Book, at: datetime | None, now: datetime, touches: Callable[[MoveRow | EventRow], bool]
) -> TimeAsked:
    """What is asked about a row of the time `at`, or by the clock `now` where none was told.

    touches: whether a move or event is of the same thing.
    """
    if at is None:
        ahead = rows_after(book, now)
        return TimeAsked(now, (_clock_back(book, ahead, now),) if ahead else (), ahead)
    later = book.history(since=at)
    rows: list[MoveRow | EventRow] = [*later.moves, *later.events]
    between = [row for row in rows if touches(row)]
    if not between:
        return TimeAsked(at)
    last = max(between, key=lambda row: row.at)
    return TimeAsked(at, (_late(book, last, at),), between=last.at)


def of_features(features: Iterable[str]) -> Callable[[MoveRow | EventRow], bool]:
    """Whether a move or an event is of one of these features."""
    names = frozenset(features)

    def touches(row: MoveRow | EventRow) -> bool:
        if isinstance(row, MoveRow):
            return row.feature in names
        happened = ShopEvent(row.at, row.kind, row.subject)
        return any(happened.stales(name) is not None for name in names)

    return touches


def rows_after(book: Book, now: datetime) -> tuple[Row, ...]:
    """Runs, moves, events and answers that lie after that time, in the order of their times."""
    (newest,) = book.newest(1) or (None,)
    if newest is None or time_of(newest) <= now:
        return ()
    later = book.history(since=now)
    answers = [row for row in book.answers() if row.at > now]
    rows: list[Row] = [*(stored.run for stored in later.runs), *later.moves, *later.events, *answers]
    return tuple(sorted(rows, key=lambda row: (time_of(row), row.id)))


def ahead_questions(now: ShopNow) -> Iterator[Question]:
    """Rows of the future, while the shop is looked at as it is now: else what was found would vanish without a word."""
    from trued.usecases.shop.shop_now import opened

    if now.looked_back:
        return
    with opened(now.path) as book:
        ahead = [row for row in rows_after(book, now.now) if not isinstance(row, AnswerRow)]
        if ahead:
            first = ahead[0]
            count = "A row" if len(ahead) == 1 else f"{len(ahead)} rows"
            text = (
                f"{count} of this book cannot be yet, by this computer's clock ({clock_said(now.now)}): "
                f"{_row_said(book, first)}. Nothing rests on that. If this computer's clock is behind, set it right. "
                "Was the clock ahead when it was written?"
            )
            yield Question(ROWS_AHEAD, first.id, text, ((ROWS, _CHOICE_ROWS[1]),))


def mend_ahead(book: Book, now: datetime, question: Question, word: str) -> str:
    """Do what the answer to `rows-ahead` asks for; what was done, "" where nothing was."""
    if question.code != ROWS_AHEAD or word != ROWS:
        return ""
    ahead = rows_after(book, now)
    put_back(book, ahead, now)
    return f"{len(ahead)} dated ahead: now before {clock_said(now)}, in their own order." if ahead else ""


def put_back(book: Book, ahead: Sequence[Row], now: datetime) -> None:
    """Correct the times of these rows, all of them after `now`: as far apart as they were, the last of them just now;
    drawn together where what is right would else come after them."""
    if not ahead:
        return
    first, last = time_of(ahead[0]), time_of(ahead[-1])
    before = [time_of(row) for row in book.newest(len(ahead) + 1) if time_of(row) <= now]
    span = last - first
    room = now - max(before, default=now - 2 * span - timedelta(seconds=4))
    edge = min(timedelta(seconds=1), room / 4)  # so that none of them shares its moment with what comes before or next
    scale = min(1.0, (room - 2 * edge) / span) if span else 1.0
    for row in ahead:
        _put(book, row, now - edge - (last - time_of(row)) * scale)


def _put(book: Book, row: Row, at: datetime) -> None:
    from trued.store.ids import id_under

    id = id_under(row.id, f"at {at.astimezone(UTC).isoformat()}")
    if isinstance(row, MoveRow):
        book.add_move(replace(row, id=id, at=at, supersedes=row.id))
    elif isinstance(row, EventRow):
        book.add_event(replace(row, id=id, at=at, supersedes=row.id))
    elif isinstance(row, AnswerRow):
        book.add_answer(replace(row, id=id, at=at, supersedes=row.id))
    else:
        _put_run(book, row, id, at)
    for given in book.answers():
        if given.about == row.id and not isinstance(row, AnswerRow):
            book.add_answer(replace(given, id=id_under(id, f"answer {given.code}"), about=id))


def _put_run(book: Book, run: RunRow, id: str, at: datetime) -> None:
    """The run with its readings, and with what came of the chances that it settled."""
    from trued.store.ids import id_under

    stored = book.run(run.id)
    readings = stored.readings if stored is not None else ()
    book.add_proof(
        replace(run, id=id, taken=at, started=min(run.started, at), supersedes=run.id),
        [
            replace(one, id=id_under(id, f"reading {one.seq}"), run=id, taken=at, received=at, supersedes=None)
            for one in readings
        ],
        [replace(one, id=id_under(id, f"came {one.stated}"), run=id, at=at) for one in book.came(run.id)],
    )


def _clock_back(book: Book, ahead: Sequence[Row], now: datetime) -> Question:
    last = ahead[-1]
    text = (
        f"By this computer's clock it is {clock_said(now)}, but {_row_said(book, last)} is in the book already. "
        "Which clock was wrong?"
    )
    return Question(
        CLOCK_BACK, "", text, (_CHOICE_ROWS, (CLOCK, "This computer's clock is behind: I set it right first"))
    )


def _late(book: Book, last: Row, at: datetime) -> Question:
    text = f"You told {clock_said(at)}. After that comes {_row_said(book, last)}. Was this before it?"
    choices = ((BEFORE, "Yes: the time I told is right"), (AFTER, "No: it came after that"))
    return Question(LATE_ENTRY, "", text, choices)


def _row_said(book: Book, row: Row) -> str:
    return f"{text_of_row(row, book)} ({clock_said(time_of(row))})"


def clock_said(at: datetime) -> str:
    """A moment as this computer's clock shows it."""
    return f"{at.astimezone():%Y-%m-%d %H:%M}"
