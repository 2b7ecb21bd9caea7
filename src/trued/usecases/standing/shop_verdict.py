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
        return ShopVerdict("not-yet", "Not yet", " ".join(view.bans))
    if not lines:
        told = "Nothing was found here so far, so nothing is claimed. Begin with a check."
        return ShopVerdict("nothing-known", "Nothing is known yet", told)
    wrong = [line.name for line in lines if line.standing.safety and not trusted(line)]
    unseen = [check.title.partition(":")[0] for check in view.never if check.safety]
    out = [line.name for line in lines if line.standing.decision == "proven-out" and not line.standing.stale]
    against = (
        _said("First {}: this is a matter of safety and is not known to be right.", wrong),
        _said("Never checked here, and someone can get hurt: {}.", unseen),
        _said("Out of tolerance: {}.", [name for name in out if name not in wrong]),
    )
    if any(against):
        return ShopVerdict("not-yet", "Not yet", " ".join(filter(None, against)))
    if again := [line.name for line in lines if line.standing.unread]:
        return ShopVerdict("look-again", "Look again first", _said("Read it again: {}.", again))
    if stale := [line.name for line in lines if line.standing.stale]:
        return ShopVerdict("look-again", "Look again first", _said("Something happened since it was found: {}.", stale))
    if view.questions:
        return ShopVerdict("cannot-tell", "Cannot tell yet", "First answer what is asked here.")
    if unsure := [line.name for line in lines if line.standing.decision == "not-proven"]:
        return ShopVerdict("cannot-tell", "Cannot tell yet", _said("Not known well enough: {}.", unsure))
    told = _said("in these: {}. What is listed as never checked stays open.", [line.name for line in lines])
    return ShopVerdict("no-problem", "No problem found", told)


def trusted(line: Line) -> bool:
    """Whether it was proven to be in, and nothing has happened to it since."""
    return line.standing.decision == "proven-in" and not line.standing.stale


def _said(text: str, names: Sequence[str]) -> str:
    return text.format(", ".join(names)) if names else ""
