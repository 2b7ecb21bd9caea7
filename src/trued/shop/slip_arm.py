"""A run of a followed feature with what came before it, made ready to be weighed for slips."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from trued.measure.decision import Limits
from trued.measure.scatter import Scatter
from trued.shop.feature import find_feature
from trued.shop.history import Observed
from trued.shop.shared import Split
from trued.shop.slip import ASKED_UNDER, QUICK, Arm, Case, Slip, right, to_ask, weigh

if TYPE_CHECKING:
    from trued.shop.track import Track

MOST_AFTER = 3  # runs after a move: more of them tell nothing new of it (the sessions of docs/slips.md come out alike)


@dataclass(frozen=True, slots=True)
class Looked:
    """An arm with its cases; both empty where there is nothing to weigh."""

    arm: Arm | None = None
    cases: tuple[Case, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether nothing is to be learnt of the screw by it: after moves where it is not likely that all is right;
        with nothing recorded where a slip explains it. (A run that only disagrees is set aside.)"""
        if self.arm is None:
            return False
        return right(self.cases) < ASKED_UNDER if self.arm.moves else self.slip is not None

    @property
    def slip(self) -> Slip | None:
        """What is asked about first; None where there is nothing to ask, or no slip that explains it."""
        return to_ask(self.cases) if self.cases else None


def look(track: Track, row: Observed, parts: Split, scatter: Scatter | None) -> Looked:
    """This run against what was believed before it; where it agrees with the runs just before it, together with them
    against what was believed before those."""
    if row.right:
        return Looked()
    own = _arm(track, row, parts, scatter)
    if own is None:
        return Looked()
    looked = Looked(own, _weighed(own))
    last = track.arm
    if last is None or looked.holds or not track.fresh or track.checks != (row.check,):
        return looked if own.moves or looked.cases else Looked()
    if not (last.moves or track.held):
        return looked
    more = replace(last, found=(last.found * last.n + row.x.value) / (last.n + 1), n=last.n + 1)
    return Looked(more, _weighed(more) if track.held or more.n <= MOST_AFTER else ())


def _weighed(arm: Arm) -> tuple[Case, ...]:
    """Nothing is weighed where the run lies where it should: within one standard deviation, and not too soon."""
    b, u = arm.belief, arm.turned
    variance = b.xx - 2.0 * u * b.xg + u * u * b.gg + arm.settling**2 + arm.own / arm.n
    near = (arm.found - (b.x - b.g * u)) ** 2 <= variance
    return () if near and not arm.quick else weigh(arm)


def _arm(track: Track, row: Observed, parts: Split, scatter: Scatter | None) -> Arm | None:
    """None where something happened in between, or another check found it before: then nothing is to be compared."""
    known = find_feature(row.feature)
    if track.events or track.last.check != row.check or known is None or known.actuator is None:
        return None
    belief = (track.before or track.response).likeliest.belief
    minutes = (row.at - track.last.at).total_seconds() / 60.0
    return Arm(
        belief=belief,
        moves=track.turns,
        advised=_advised(belief.x, belief.move_to(_middle(row.limits)), row.limits),
        run_before=track.last.run,
        value_before=track.last.x.value,
        runs_before=track.runs,
        run=row.run,
        found=row.x.value,
        n=1,
        own=parts.own,
        read=parts.readings,
        dof=scatter.dof if scatter is not None and parts.gain else math.inf,
        settling=track.settling,
        usual_settling=known.actuator.settling,
        back=bool(track.arrivals) and track.arrivals[-1].u * track.turned < 0.0,
        previous=replace(track.arm, previous=None)
        if track.turns and track.arm is not None and not track.held
        else None,
        quick=not row.anew and minutes < QUICK * known.minutes,
    )


def _advised(x: float, move: float, limits: Limits | None) -> float:
    """The move that was worth telling: none where what was believed lies within the limits."""
    return 0.0 if limits is not None and limits.hold(x) else move


def _middle(limits: Limits | None) -> float:
    if limits is None or limits.low is None or limits.high is None:
        return 0.0
    return 0.5 * (limits.low + limits.high)
