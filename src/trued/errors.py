"""What is said when something cannot be done: one sentence a fault, all faults at once.

A fault says where it stands, what was read, and in one sentence what is allowed or what to do.
An error carries one or more faults and the exit status that a script sees:

====  ==================  =============================================================
  2   `InputRefused`      what was typed, a job, a shop file, a folder that cannot be written
  2   `Asks`              something must be answered first; nothing was kept
  3   `BookRefused`       the book is missing, newer, damaged, locked or not writable
 70   `TruedError`        a fault of ours (the base of all, raised itself only for that)
 74   `AnswerLost`        what was asked was done, its answer could not be written (a full disk)
====  ==================  =============================================================
"""

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, replace
from typing import ClassVar, Self


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong.

    where: the place in the input, in the person's words (`fence_end`, `[[part]] "shelf", length`); may be empty.
    read:  what was read there, as typed; may be empty.
    text:  one sentence: what is allowed, or what to do. Never empty, always one line.
    """

    where: str
    read: str
    text: str

    def __post_init__(self) -> None:
        # A pasted line break would tear the sentence apart in a list of faults.
        object.__setattr__(self, "text", " ".join(self.text.split()))
        if not self.text:
            raise ValueError("a fault needs a sentence")

    def __str__(self) -> str:
        words = " ".join(self.read.split())
        read = words if len(words) <= 60 else words[:59] + "…"
        lead = " ".join(word for word in (self.where, f"“{read}”" if read else "") if word)
        return f"{lead}: {self.text}" if lead else self.text

    def under(self, place: str) -> "Fault":
        """The same fault seen from one step further out: `length` under `part shelf` is `part shelf, length`."""
        return replace(self, where=", ".join(word for word in (place, self.where) if word))


class TruedError(Exception):
    """The base of every error that a person may see. `str()` is the sentences, one a line."""

    status: ClassVar[int] = 70
    faults: tuple[Fault, ...]

    def __init__(self, *faults: Fault) -> None:
        if not faults:
            raise ValueError(f"{type(self).__name__} needs at least one fault")
        super().__init__(*faults)
        self.faults = faults

    @classmethod
    def of(cls, where: str, read: str, text: str) -> Self:
        """The error with this one fault."""
        return cls(Fault(where, read, text))

    def __str__(self) -> str:
        return "\n".join(str(fault) for fault in self.faults)


class InputRefused(TruedError):
    """Any bad input: nothing was done, nothing is half-written."""

    status: ClassVar[int] = 2


@dataclass(frozen=True, slots=True)
class Question:
    """What only the person can know, asked before anything rests on it.

    code:    which question it is, as `clock-back`; an answer is kept under it.
    about:   the id of the row, or the name, that it is about; "" for what is only about to be kept.
    text:    the question, one line.
    choices: (word, what it means) of each answer, at least one; a word is lower case without blanks.
    """

    code: str
    about: str
    text: str
    choices: tuple[tuple[str, str], ...]

    def __post_init__(self) -> None:
        object.__setattr__(self, "text", " ".join(self.text.split()))
        words = [word for word, _ in self.choices]
        if not self.code or not self.text or not words or len(set(words)) != len(words):
            raise ValueError("a question needs a code, a sentence, and choices that differ")
        if any(not word or word != word.lower() or set(word) & set(" =\t\n") for word in words):
            raise ValueError(f"an answer is one word in lower case, got {words}")

    def means(self, word: str) -> str | None:
        """What that word means; None when it is no answer to this."""
        return dict(self.choices).get(word)


class Asks(TruedError):
    """Something must be answered before this is done: nothing was done, nothing is kept."""

    status: ClassVar[int] = 2
    questions: tuple[Question, ...]

    def __init__(self, *questions: Question) -> None:
        super().__init__(*(Fault("", "", _asked(question)) for question in questions))
        self.questions = questions

    def __reduce__(self) -> tuple[type[Self], tuple[Question, ...]]:
        return type(self), self.questions


def _asked(question: Question) -> str:
    ways = " ".join(
        f"{word}: {text}" + ("" if text.endswith((".", "?", "!")) else ".") for word, text in question.choices
    )
    return f"{question.text} Answer with --answer and one of these. {ways}"


class BookRefused(TruedError):
    """The book cannot be read or written as it is."""

    status: ClassVar[int] = 3


class AnswerLost(TruedError):
    """What was asked was done, and its answer could not be written out."""

    status: ClassVar[int] = 74


_KEPT: ContextVar[list[str] | None] = ContextVar("kept", default=None)


@contextmanager
def one_action() -> Iterator[list[str]]:
    """What is kept while one thing is done that a person asked for, `run 3f…`, in its order: whatever fails after a row
    was kept is not told as if nothing had been."""
    kept: list[str] = []
    before = _KEPT.set(kept)
    try:
        yield kept
    finally:
        _KEPT.reset(before)


def was_kept(what: str) -> None:
    """Note a row that is on the disk now."""
    if (kept := _KEPT.get()) is not None:
        kept.append(what)


NOTHING_KEPT = re.compile(
    r"[:;] nothing of (?:this|it) was kept|Nothing was (?:kept|changed)\.|, then (?:do it|try) again"
)
"""In sentences that are said of one row, and are not so of the whole action when something was kept before it."""


def kept_all_the_same(kept: Sequence[str]) -> str:
    """What is said of them after a failure."""
    names = list(dict.fromkeys(kept))
    if len(names) > _MOST_NAMED:
        return f"Before that {len(names)} rows were kept, the last {names[-1]}: do not enter them again."
    return f"Before that {' and '.join(names)} was kept: do not enter it again."


_MOST_NAMED = 3


class Faults:
    """Gathers the faults of a whole form, so that a person hears of all of them at once.

    >>> faults = Faults()
    >>> with faults.at("fence_end"):
    ...     raise InputRefused.of("", "1,500", "Write 1500 or 1.500.")
    >>> faults.add("length", "", "The length is missing.")
    >>> [str(fault) for fault in faults]
    ['fence_end “1,500”: Write 1500 or 1.500.', 'length: The length is missing.']
    """

    def __init__(self) -> None:
        self._found: list[Fault] = []

    def add(self, where: str, read: str, text: str) -> None:
        """Note one fault and go on."""
        self._found.append(Fault(where, read, text))

    def take(self, error: InputRefused, place: str = "") -> None:
        """Note every fault of a refused input, seen from `place`."""
        self._found.extend(fault.under(place) for fault in error.faults)

    def at(self, place: str = "") -> "_Place":
        """A `with` block whose refused input is noted under `place`; the work goes on after the block."""
        return _Place(self, place)

    def raise_if_any(self) -> None:
        """Refuse the input with all faults noted so far; do nothing when there are none."""
        if self._found:
            raise InputRefused(*self._found)

    def __len__(self) -> int:
        return len(self._found)

    def __iter__(self) -> Iterator[Fault]:
        return iter(tuple(self._found))


@dataclass(frozen=True, slots=True)
class _Place:
    # A class and not a generator: its __exit__ tells the type checker that the block may end early.
    faults: Faults
    place: str

    def __enter__(self) -> None:
        return None

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: object) -> bool:
        if isinstance(error, InputRefused):
            self.faults.take(error, self.place)
            return True
        return False
