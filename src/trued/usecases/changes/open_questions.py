"""What the book's own rows leave to be asked; worked out anew each time, so that an undo re-decides it."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from trued.errors import Question
from trued.standing.history.history import History
from trued.usecases.changes.slips import slip_questions
from trued.usecases.questions.clock import ahead_questions
from trued.usecases.questions.detent_questions import detent_questions
from trued.usecases.questions.mis_cuts import mis_cut_questions
from trued.usecases.shop.shop_now import ShopNow

SOURCES: tuple[Callable[[ShopNow], Iterable[Question]], ...] = (
    ahead_questions,
    slip_questions,
    mis_cut_questions,
    detent_questions,
)
"""Each gives the questions that it has about rows of the book, `about` the id of a row; a new kind is one line here."""


def open_questions(now: ShopNow) -> tuple[Question, ...]:
    """All that is not answered yet, in the order of the sources."""
    if not SOURCES:
        return ()
    asked = (question for source in SOURCES for question in source(now))
    return tuple(question for question in dict.fromkeys(asked) if not is_answered(question, now.history))


def is_answered(question: Question, history: History) -> bool:
    """Whether the last answer to it is one that it still takes."""
    word = history.answer(question.about, question.code)
    return word is not None and question.means(word) is not None
