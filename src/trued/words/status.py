"""How the shop stands, for every surface: the answer, what can hurt someone, one thing to do, and how much is known.

Numbers, dates and what comes after the one thing to do lie in folds; a danger, a ban and a question never do.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from trued.measure.estimate import interval
from trued.standing.feature import find_feature, said
from trued.standing.feature_status import FeatureStatus
from trued.units import Unit
from trued.words.decisions import Badge, badge_of, likely_in
from trued.words.figures import figure, first_up, short_name
from trued.words.message import CheckNext, Figure, Fold, Message, Order

_BADGES = (
    *(Badge.BAD_RUN, Badge.OUT, Badge.RECHECK, Badge.MOVED, Badge.ANSWER_FIRST, Badge.NOT_KNOWN, Badge.IN),
    Badge.MEASURED,
)
_NAMED = 3
"""So many features of a kind are named; of more, how many there are."""


@dataclass(frozen=True, slots=True)
class StatusFacts:
    """What the answer is told from.

    name:     of the shop, with the day. headline, told: the answer, and what it rests on.
    dangers:  what can hurt someone, and what must not be used, in sentences.
    orders:   what is to be done first: by hand, or a check that is run. after: what comes after, each by its name.
    unsafe:   checks that were never done, of what can hurt someone; others: the ids of all the rest.
    lines:    every feature. unread: what cannot be computed any more, in sentences.
    """

    name: str
    headline: str
    told: str
    unit: Unit
    dangers: Sequence[str] = ()
    orders: Sequence[Order] = ()
    after: Sequence[CheckNext] = ()
    unsafe: Sequence[CheckNext] = ()
    others: Sequence[str] = ()
    lines: Sequence[FeatureStatus] = ()
    unread: Sequence[str] = ()


def status_message(facts: StatusFacts) -> Message:
    """The answer."""
    return Message(
        facts.name,
        None,
        f"{facts.headline.upper()}. {facts.told}".rstrip(),
        tuple(facts.dangers),
        orders=tuple(replace(order, why="") for order in facts.orders),
        figures=tuple(_counts(facts)),
        asides=(*(f"Can't compute anymore: {text}" for text in facts.unread), *_left(facts)),
        folds=tuple(_folds(facts)),
        unsafe=tuple(facts.unsafe),
    )


def status_badge(status: FeatureStatus) -> Badge:
    """What stands beside a feature's name."""
    if not status.believed:
        return Badge.BAD_RUN
    if status.stale:
        return Badge.RECHECK
    if not status.runs:
        return Badge.MOVED
    if status.asked is not None:
        return Badge.ANSWER_FIRST
    return badge_of(status.decision)


def status_line(status: FeatureStatus, unit: Unit) -> Figure:
    """One feature with its number, limit and how likely it is in."""
    known = find_feature(status.feature)
    within = None if known is not None and known.spread else interval(status.x)
    badge = status_badge(status)
    if badge is Badge.BAD_RUN:
        return Figure(first_up(said(status.feature)), "", "", f"{badge.value}. It does not count")
    sure = badge.value
    if badge is Badge.NOT_KNOWN and status.chance_in is not None:
        sure = f"{badge.value}. {likely_in(status.chance_in, status.scatter_source)}"
    told = figure(status.feature, status.x.value, within, status.unit, unit, status.limits, sure)
    return replace(told, name=first_up(said(status.feature)))


def _left(facts: StatusFacts) -> Iterator[str]:
    if facts.after:
        yield f"{len(facts.after)} more after that."


def _counts(facts: StatusFacts) -> Iterator[Figure]:
    """How many features are known, and how: a few by name."""
    for badge in _BADGES:
        some = [status for status in facts.lines if status_badge(status) is badge]
        if some:
            names = dict.fromkeys(short_name(status.feature) for status in some)
            listed = ", ".join(names) if len(names) <= _NAMED else str(len(some))
            yield Figure("No limit" if badge is Badge.MEASURED else badge.value, listed)
    if facts.others:
        yield Figure("Not checked", f"{len(facts.others)} more")


def _folds(facts: StatusFacts) -> Iterator[Fold]:
    if facts.lines:
        yield Fold("Every feature", tuple(status_text(status, facts.unit) for status in facts.lines))
    why = tuple(order.why for order in facts.orders if order.why)
    if why:
        yield Fold("Why", why)
    if facts.after:
        yield Fold("After that", tuple(f"{one.name}: {one.check} ({one.minutes:.0f} min)" for one in facts.after))
    if facts.others:
        yield Fold("Not checked", tuple(facts.others))


def status_text(status: FeatureStatus, unit: Unit) -> str:
    """`Fence angle (sled): 0.0060 in/ft tight, ±0.0019 (0.029°), limit ±0.0024. Recheck. Saw moved.`"""
    line = status_line(status, unit)
    number = f"{line.name}: {', '.join(part for part in (line.value, line.limit) if part)}.".replace(": .", ":")
    again = status.look_again
    texts = [number, f"{line.sure.rstrip('.')}." if line.sure else ""]
    texts += [f"{text}." if text[-1:] != "." else text for text in status.stale]
    texts += [f"Set aside: {text}." for text in status.set_aside]
    if status.unread and status.believed:
        texts.append("The newest run does not count yet.")
    if again is not None and again.uses is not None and again.date is not None:
        texts.append(f"Recheck after {again.uses} sessions or by {again.date:%b} {again.date.day}, {again.date.year}.")
    return " ".join(text for text in texts if text)
