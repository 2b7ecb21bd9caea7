"""Answer what is asked about a row that is kept, or say of a run that it was read as typed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.errors import InputRefused, Question
from trued.usecases.changes.open_questions import open_questions
from trued.usecases.changes.slips import mend
from trued.usecases.changes.undo import one_row
from trued.usecases.questions.asking import word_for
from trued.usecases.questions.clock import mend_ahead
from trued.usecases.shop.shop_now import opened, read_now

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.kept.standing_rows import Row

CONFIRM = "confirm"


@dataclass(frozen=True, slots=True)
class AnswerView:
    """The answer as kept: its own id, the row that it is about, what the word means, and what was mended by it."""

    id: str
    about: str
    question: Question
    word: str
    at: datetime
    mended: str = ""

    @property
    def means(self) -> str:
        """The word in a sentence."""
        return self.question.means(self.word) or self.word


def confirmation(run: str) -> Question:
    """What `trued confirm` answers: it may be asked about any run that is kept."""
    text = "Was this run read as it was typed?"
    return Question(CONFIRM, run, text, (("yes", "It was read and typed right: it counts"),))


def answer(beginning: str, word: str, book: Path, *, at: datetime | None = None, device: str = "") -> AnswerView:
    """Keep `word` (or `CODE=WORD`) as the answer to what is asked about the row whose id begins so.

    InputRefused: no such row, nothing is asked about it, or the word answers nothing of that.
    """
    with opened(book) as kept:
        now = read_now(kept, book, at)
        row = one_row(beginning, kept)
        asked = [question for question in open_questions(now) if question.about == row.id]
        taken = [*asked, *_always(row)]
        hits = [(question, told) for question in taken if (told := word_for(question, [word])) is not None]
        if not hits:
            raise InputRefused.of("answer", word, _none_takes(asked))
        if len(hits) > 1:
            ways = " or ".join(f"{question.code}={told}" for question, told in hits)
            raise InputRefused.of("answer", word, f"Two questions take that word; write {ways}.")
        mended = mend(kept, now, *hits[0]) or mend_ahead(kept, now.now, *hits[0])
        return replace(_keep(kept, *hits[0], at, device), mended=mended)


def confirm(beginning: str, book: Path, *, at: datetime | None = None, device: str = "") -> AnswerView:
    """Say of the run whose id begins so that it was read as typed. InputRefused: it is no run, or not in force."""
    with opened(book) as kept:
        row = one_row(beginning, kept)
        for question in _always(row):
            return _keep(kept, question, "yes", at, device)
        raise InputRefused.of("id", beginning, "Only a run can be confirmed; this is something else.")


def _always(row: Row) -> tuple[Question, ...]:
    from trued.store.rows import RunRow

    return (confirmation(row.id),) if isinstance(row, RunRow) else ()


def _none_takes(asked: list[Question]) -> str:
    if not asked:
        return "Nothing is asked about that."
    words = ", ".join(word for question in asked for word, _ in question.choices)
    return f"That is no answer to what is asked about it; the answers are: {words}."


def _keep(book: Book, question: Question, word: str, at: datetime | None, device: str) -> AnswerView:
    from trued.store.ids import new_id
    from trued.store.rows import AnswerRow

    given = [row for row in book.answers() if (row.about, row.code) == (question.about, question.code)]
    if given and given[-1].word == word:
        row = given[-1]
    else:
        row = AnswerRow(new_id(), question.about, question.code, word, at or datetime.now(UTC), device or None)
        book.add_answer(row)
    return AnswerView(row.id, row.about, question, row.word, row.at)
