"""In which order the next steps are taken: what can hurt someone, what is out, what another check rests on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from trued.measure.decision import Conformity
from trued.standing.feature import find_feature, named
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.usecases.shop.list_checks import list_checks


@dataclass(frozen=True, slots=True)
class ActionStep:
    """One next action and the features that it serves, the most urgent first."""

    serves: tuple[FeatureStatus, ...]

    @property
    def first(self) -> FeatureStatus:
        return self.serves[0]


@dataclass(frozen=True, slots=True)
class CheckVisit:
    """What comes next for one check of one thing: one action, and by hand whatever else goes with it before the run.

    A run that is to be made with nothing touched never stands beside something that is to be turned.
    """

    steps: tuple[ActionStep, ...]


def visits(standings: Iterable[FeatureStatus]) -> tuple[CheckVisit, ...]:
    """All that is to be done, one visit for each check of one thing, the most urgent first."""
    by_check: dict[tuple[str, str, str], list[FeatureStatus]] = {}
    for standing in in_turn(standings):
        by_check.setdefault(_where(standing), []).append(standing)
    return tuple(CheckVisit(tuple(_steps(group))) for group in by_check.values())


def _where(s: FeatureStatus) -> tuple[str, str, str]:
    parts = named(s.feature)
    return (s.next.check if s.next is not None else "") or s.feature, parts.thing, parts.angle


def _steps(group: list[FeatureStatus]) -> Iterator[ActionStep]:
    serves: dict[str, list[FeatureStatus]] = {}
    for standing in group:
        serves.setdefault(standing.next.text if standing.next is not None else "", []).append(standing)
    first, *others = (ActionStep(tuple(some)) for some in serves.values())
    yield first
    if _by_hand(first.first):
        yield from (step for step in others if _by_hand(step.first))


def _by_hand(s: FeatureStatus) -> bool:
    return s.next is not None and (s.next.do is ActionKind.MOVE or s.next.mends)


_RANK = {Conformity.PROVEN_OUT: 0, Conformity.NOT_PROVEN: 1, Conformity.PROVEN_IN: 2, None: 3}


_LAST = 10**6  # of the turn: what only an old book knows


def in_turn(standings: Iterable[FeatureStatus]) -> list[FeatureStatus]:
    """The standings of which something is to be done, the most urgent first."""
    return sorted((s for s in standings if s.next is not None and s.next.do is not ActionKind.LEAVE), key=_urgency)


def _urgency(s: FeatureStatus) -> tuple[bool, int, bool, int, float, bool, int, str]:
    known = find_feature(s.feature)
    check = s.next.check if s.next is not None else ""
    minutes = known.minutes if known is not None else 10.0
    return (
        not s.safety,
        _RANK[s.decision],
        not s.stale,
        _depths().get(check, 0),
        minutes,
        not s.dangers,
        known.turn if known is not None else _LAST,
        s.feature,
    )


@cache
def _depths() -> dict[str, int]:
    """How many checks deep the ground of each lies: the blade before the fence that is set to it."""
    rests = {check.id: _ground(check.ground) - {check.id} for check in list_checks()}
    depths = dict.fromkeys(rests, 0)
    for _ in rests:  # as often as a chain of checks can be long; a ring of them comes to an end
        depths = {id: max((depths.get(other, 0) + 1 for other in others), default=0) for id, others in rests.items()}
    return depths


def _ground(features: Iterable[str]) -> set[str]:
    return {known.check for feature in features if (known := find_feature(feature)) is not None}
