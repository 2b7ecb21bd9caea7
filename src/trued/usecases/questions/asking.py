"""A question before something is kept: answered with what was given, or asked; the answer is kept with the row."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from trued.errors import Asks, InputRefused, Question

if TYPE_CHECKING:
    from trued.store.book import Book


FORM_AGAIN = "form-again"
"""The question whether what differs under the key of a form is meant as well, or instead (`once.py`)."""


@dataclass(frozen=True, slots=True)
class Settled:
    """A question and the word that answers it."""

    question: Question
    word: str


def settle(questions: Iterable[Question], given: Sequence[str]) -> tuple[Settled, ...]:
    """Each question with its answer out of `given` (`WORD`, or `CODE=WORD` where two would take the same word).

    Asks: one or more have none. InputRefused: a word that answers none of what is asked; one with the code of another
    question was for that one.
    """
    asked = tuple(questions)
    if not asked:
        return ()
    found = {question: word_for(question, given) for question in asked}
    strange = [text for text in given if _is_for(text, asked) and all(_word(one, text) is None for one in asked)]
    if strange and None in found.values():
        words = ", ".join(word for question, was in found.items() if was is None for word, _ in question.choices)
        raise InputRefused.of("--answer", strange[0], f"That is no answer to what is asked; the answers are: {words}.")
    waiting = [question for question, word in found.items() if word is None]
    if waiting:
        raise Asks(*waiting)
    return tuple(Settled(question, word) for question, word in found.items() if word is not None)


def _is_for(text: str, asked: Sequence[Question]) -> bool:
    code, told, _ = text.strip().lower().rpartition("=")
    return not told or code in {question.code for question in asked}


def word_for(question: Question, given: Sequence[str]) -> str | None:
    """The last of `given` that answers this question; None where none does."""
    return next((word for text in reversed(given) if (word := _word(question, text)) is not None), None)


def _word(question: Question, text: str) -> str | None:
    code, told, word = text.strip().lower().rpartition("=")
    if told and code != question.code:
        return None
    return word if question.means(word) is not None else None


def answer_of(settled: Iterable[Settled], code: str) -> str | None:
    """What that question was answered with; None where it was not asked."""
    return next((one.word for one in settled if one.question.code == code), None)


def keep_answers(book: Book, settled: Iterable[Settled], about: str, at: datetime, device: str = "") -> None:
    """Keep the answers to what was asked before the row `about` was kept; the same row has them once. What was answered
    about the form alone says nothing of the shop, and shows in the rows themselves."""
    from trued.store.ids import id_under
    from trued.store.rows import AnswerRow

    for one in (one for one in settled if one.question.code != FORM_AGAIN):
        code, of = one.question.code, one.question.about or about
        book.add_answer(AnswerRow(id_under(about, f"answer {code} {of}"), of, code, one.word, at, device or None))
