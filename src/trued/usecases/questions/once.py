"""One form, one row: the same form sent again changes nothing, and what differs under its key is asked about.

The writer makes a key before a form is filled in. A browser that goes back brings the same form again, and with it the
same key: as a second delivery of the same words, as a correction of what was typed wrong, or as something else that
happened as well. Only the first needs no question.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeVar

from trued.errors import Question
from trued.store.ids import id_under, new_id
from trued.usecases.questions.asking import FORM_AGAIN, Settled, answer_of
from trued.usecases.questions.row_text import text_of_row

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.kept.standing_rows import Row
    from trued.store.rows import ReadingRow, RunRow

ANOTHER, INSTEAD = "another", "instead"

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Sent(Generic[T]):
    """What lies under a key: what was sent first, and what stands of it now (None: it was taken back)."""

    first: T
    stands: T | None


@dataclass(frozen=True, slots=True)
class Place(Generic[T]):
    """Where what is sent belongs.

    id:        the id to keep it under.
    there:     what is kept already, because the same was sent before; then nothing is to be kept.
    questions: what must be answered before it is kept.
    before:    what stands under the key, which it may be meant instead of.
    """

    id: str
    there: T | None = None
    questions: tuple[Question, ...] = ()
    before: T | None = None

    def instead_of(self, settled: Iterable[Settled]) -> T | None:
        """What it takes the place of, by what was answered."""
        return self.before if answer_of(settled, FORM_AGAIN) == INSTEAD else None


def place_of(
    key: str | None,
    content: str,
    look: Callable[[str], Sent[T] | None],
    same: Callable[[T], bool],
    told: Callable[[T], str],
    *,
    replaces: Callable[[T], bool],
) -> Place[T]:
    """The place of what is sent under `key` (None: the writer has made none).

    content: what was typed, as one text; different texts are different things.
    look:    what lies under an id. same: whether that is what is sent. told: what it is in words.
    replaces: whether what is sent can be meant in its place.
    """
    if key is None:
        return Place(new_id())
    first = look(key)
    if first is None:
        return Place(key)
    if first.stands is not None and same(first.stands):
        return Place(key, first.stands)
    own = id_under(key, content)
    while (found := look(own)) is not None:
        if found.stands is not None and same(found.stands):
            return Place(own, found.stands)
        own = id_under(own, content)  # it was taken back, or another is in its place
    if first.stands is not None:
        question = _differs(told(first.stands), replaces=replaces(first.stands))
        return Place(own, questions=(question,), before=first.stands)
    return Place(own, questions=(_taken_back(),) if same(first.first) else ())


def place_of_row(book: Book, key: str | None, content: str, kind: type[Row], same: Callable[[Row], bool]) -> Place[Row]:
    """The place of a run, move, event or answer among the rows of the book."""

    def look(id: str) -> Sent[Row] | None:
        found = book.under(id)
        return None if found is None else Sent(*found)

    return place_of(
        key, content, look, same, lambda row: text_of_row(row, book), replaces=lambda row: isinstance(row, kind)
    )


def place_of_run(
    book: Book, key: str | None, run: RunRow, readings: Sequence[ReadingRow], facts: Sequence[str] | None = None
) -> Place[Row]:
    """The place of a run with its readings: another one differs in a reading, its fixture, unit or facts (those of the
    names `facts`, or all)."""
    from trued.store.rows import RunRow, StoredRun

    def content(stored: StoredRun | None) -> object:
        if stored is None:
            return None
        row = stored.run
        told = sorted((name, value) for name, value in row.facts.items() if facts is None or name in facts)
        return row.check, row.fixture, row.unit, told, stored.as_typed

    sent = content(StoredRun(run, tuple(readings)))
    return place_of_row(
        book, key, repr(sent), RunRow, lambda row: isinstance(row, RunRow) and content(book.run(row.id)) == sent
    )


def _differs(text: str, *, replaces: bool) -> Question:
    choices = ((ANOTHER, "Both are true: keep this one too"), (INSTEAD, "The first was a slip: keep this in its place"))
    asked = f"This form was sent before, and kept as: {text}. What you send now is different. Are both true?"
    return Question(FORM_AGAIN, "", asked, choices if replaces else choices[:1])


def _taken_back() -> Question:
    return Question(FORM_AGAIN, "", "You took this back. Is it to count again?", ((ANOTHER, "Yes, keep it again"),))
