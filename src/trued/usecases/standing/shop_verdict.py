"""Can I cut? The one function that decides it, for page, terminal and library alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from trued.usecases.standing.standing import Line, StandingView


@dataclass(frozen=True, slots=True)
class ShopVerdict:
    """The answer. It never says that anything is safe.

    code:     `nothing-known`, `not-yet`, `look-again`, `cannot-tell` or `no-problem`.
    headline: the answer in three or four words. told: what it rests on, the gravest first.
    """

    code: str
    headline: str
    told: str


def shop_verdict(view: StandingView) -> ShopVerdict:
    """What can hurt someone comes before all else: while that is not known to be right, the answer is *not yet*."""
    lines = view.lines
    if view.bans:
        return ShopVerdict("not-yet", "Don't cut yet", " ".join(view.bans))
    if not lines:
        return ShopVerdict("nothing-known", "Nothing checked yet", "Start with blade to slot.")
    wrong = [line.name for line in lines if line.standing.safety and not trusted(line)]
    unseen = [check.title.partition(":")[0].lower() for check in view.never if check.safety]
    out = [line.name for line in lines if line.standing.decision == "proven-out" and not line.standing.stale]
    out = [name for name in out if name not in wrong]
    if wrong or unseen:
        texts = (_said("Check {}: someone can get hurt.", (*wrong, *unseen)), _said("Adjust {}.", out))
        return ShopVerdict("not-yet", "Don't cut yet", " ".join(filter(None, texts)))
    if out:
        return ShopVerdict("not-yet", "Adjust first", _said("{}.", out))
    if again := [line.name for line in lines if line.standing.unread]:
        return ShopVerdict("look-again", "Measure again", _said("{}.", again))
    if stale := [line.name for line in lines if line.standing.stale]:
        return ShopVerdict("look-again", "Recheck first", _said("{}.", stale))
    if view.questions:
        return ShopVerdict("cannot-tell", "Answer first", "Then it is told what comes next.")
    if unsure := [line.name for line in lines if line.standing.decision == "not-proven"]:
        return ShopVerdict("cannot-tell", "Measure again", _said("{}.", unsure))
    seen = _said("No problem found in: {}.", [line.name for line in lines])
    return ShopVerdict("no-problem", "Not everything is checked" if view.never else "No problem found", seen)


def trusted(line: Line) -> bool:
    """Whether it was proven to be in, and nothing has happened to it since."""
    return line.standing.decision == "proven-in" and not line.standing.stale


_NAMED = 5


def _said(text: str, names: Sequence[str]) -> str:
    """The names by what they are, each once: `insert height, fence angle`; of many, how many more."""
    named = list(dict.fromkeys(name.partition(",")[0].partition(" (")[0] for name in names))
    more = [f"{len(named) - _NAMED} more"] if len(named) > _NAMED + 1 else []
    kept = named[:_NAMED] if more else named
    return text.format(", ".join((*kept, *more))) if names else ""
