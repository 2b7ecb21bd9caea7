"""Whether a run is one of its own, or the strip of the run before read once more: asked before it is kept.

A second reading of one strip makes its reading better and says nothing of how strips repeat; taken for a run with
nothing touched between it would prove what was never shown.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

from trued.errors import Question
from trued.procedure import Check
from trued.standing.filtered.slip import QUICK
from trued.store.ids import id_under

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.rows import ReadingRow, RunRow, StoredRun

CODE, ANEW, SAME = "same-strip", "anew", "same"
SINCE = timedelta(days=1)  # a strip that was read earlier is not at hand any more: common practice
SHARED = ("angle", "swing")  # facts that make it another thing that is found


def run_before(book: Book, check: Check, run: RunRow) -> StoredRun | None:
    """The last run of that check with that fixture within a day; None for a check whose runs prove nothing together."""
    if check.between_runs is None:
        return None
    kept = book.runs(check=check.id, fixture=run.fixture, until=run.taken, since=run.taken - SINCE)
    alike = [one for one in kept if one.run.id not in (run.id, run.supersedes) and _facts(one.run) == _facts(run)]
    return alike[-1] if alike else None


def _facts(run: RunRow) -> tuple[str, ...]:
    return tuple(run.facts.get(name, "") for name in SHARED)


def strip_question(check: Check, before: StoredRun, run: RunRow, readings: Sequence[ReadingRow]) -> Question | None:
    """Asked of a run that comes sooner than half of the time that the check takes, or that repeats every reading."""
    quick = run.taken - before.run.taken < timedelta(minutes=QUICK * check.minutes)
    repeats = Counter(map(_typed, readings)) == Counter(map(_typed, before.readings))
    if not quick and not repeats:
        return None
    minutes = (run.taken - before.run.taken).total_seconds() / 60.0
    why = "These are the readings of the run before." if repeats else f"The run before is {minutes:.0f} min old."
    choices = ((ANEW, "Cut or set up anew"), (SAME, "The same one, read again: it counts as one run"))
    return Question(CODE, "", f"{why} Was it cut or set up anew, or was the same one read again?", choices)


def _typed(reading: ReadingRow) -> str:
    return replace(reading, instrument="").as_typed


def was_added(before: StoredRun, run: RunRow) -> bool:
    """Whether this run, sent twice, is among the readings of the one before already."""
    return any(reading.id == id_under(run.id, "again 0") for reading in before.readings)
