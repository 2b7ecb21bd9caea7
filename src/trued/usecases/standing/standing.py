"""What is known of the shop now, and what to do next."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from trued.equipment.shop import Shop
from trued.errors import Question
from trued.measure.decision import ToleranceLimits
from trued.standing.feature import bare_name, find_feature, said
from trued.standing.feature_status import FeatureStatus
from trued.standing.owner import WORK, owner_of
from trued.usecases.changes.open_questions import open_questions
from trued.usecases.shop.forbidden_work import forbidden
from trued.usecases.shop.list_checks import list_checks
from trued.usecases.shop.shop_now import shop_now
from trued.usecases.standing.action_queue import CheckVisit, visits
from trued.usecases.standing.move_instructions import in_words


@dataclass(frozen=True, slots=True)
class Line:
    """One feature for a person: its name in words, how many minutes its check takes, the names of others that the same
    next step serves, and what else is done by hand before that check is run."""

    standing: FeatureStatus
    name: str
    minutes: float
    also: tuple[str, ...] = ()
    then: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class Unchecked:
    """A check that was never done here. `safety`: what it finds can hurt someone."""

    check: str
    title: str
    minutes: float
    safety: bool


@dataclass(frozen=True, slots=True)
class StandingView:
    """`do_first` is in order: safety, then what is out, then what is stale, then what is not proven, and of these what
    another check rests on before that check; one line for each check of one thing.
    `never` names checks that were never done here, safety first; `unread` runs that can no longer be worked out;
    `bans` what must not be used in this shop; `questions` what only the person can answer, each about a
    row of the book."""

    shop: Shop
    now: datetime
    lines: tuple[Line, ...]
    do_first: tuple[Line, ...]
    never: tuple[Unchecked, ...]
    unread: tuple[str, ...]
    questions: tuple[Question, ...] = ()
    bans: tuple[str, ...] = ()


def what_stands(
    book: Path, *, at: datetime | None = None, limits: Mapping[str, ToleranceLimits] | None = None
) -> StandingView:
    """Everything that is believed, from the kept readings, moves and events alone."""
    now = shop_now(book, at)
    standings = in_words(now, now.standings(limits))
    lines = tuple(_line(standing) for standing in standings)
    against = forbidden(now.shop, standings, now.closed)
    never = tuple(sorted(_never(lines, against.checks), key=lambda check: not check.safety))
    return StandingView(
        now.shop,
        now.now,
        lines,
        tuple(_once(visit) for visit in visits(standings)),
        never,
        now.left_out,
        open_questions(now),
        against.texts,
    )


def _once(visit: CheckVisit) -> Line:
    """One line for one check of one thing: its first action, and what else is done by hand before it is run."""
    first, *others = (replace(_line(step.first), also=_names(step.serves[1:])) for step in visit.steps)
    return replace(first, then=tuple(others))


def _names(standings: Sequence[FeatureStatus]) -> tuple[str, ...]:
    return tuple(said(standing.feature) for standing in standings)


def _line(standing: FeatureStatus) -> Line:
    known = find_feature(standing.feature)
    return Line(standing, said(standing.feature), known.minutes if known is not None else 10.0)


def _never(lines: Sequence[Line], forbidden: Collection[str]) -> Iterator[Unchecked]:
    """The checks of which nothing was ever found here; what is of one piece of work alone has no standing, and a check
    that cuts with what must not be used is not ordered."""
    found = {bare_name(line.standing.feature) for line in lines}
    for check in list_checks():
        lasting = [feature for feature in check.names if owner_of(feature, None) != WORK]
        if lasting and found.isdisjoint(check.names) and check.id not in forbidden:
            known = (find_feature(feature) for feature in lasting)
            safety = any(feature is not None and feature.safety for feature in known)
            yield Unchecked(check.id, check.title, check.minutes, safety)
