"""What to do next about something that can be turned: by the minutes to be expected until it is proven in.

Two ways go on from a run: the check once more with nothing touched, or a move and then the check. Each is followed
some runs ahead, over all that the next run may show, as what is believed now foretells it. Beyond the last run that is
followed it is taken to end by well aimed moves, or by one of them and as many runs as make it known to half its limits.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from statistics import NormalDist
from typing import NamedTuple

from trued.measure.decision import LEVEL, ToleranceLimits
from trued.standing.filtered.kalman import GaussianState

_NORMAL = NormalDist()
_Z = _NORMAL.inv_cdf(LEVEL)
_ROOT_HALF = math.sqrt(0.5)
AHEAD = 2  # runs that are followed one by one before the end is taken for a whole
TAIL = (1.0 / 6.0, 0.5, 5.0 / 6.0)  # middles of thirds: of what lies below what would prove, within it, and above
NEVER = 1e-3  # chance; one less is no chance


def target_of(limits: ToleranceLimits | None) -> float:
    """Where a feature is best: the middle of its limits, else nought, or the one limit that nought lies beyond."""
    if limits is None:
        return 0.0
    if limits.low is not None and limits.high is not None:
        return 0.5 * (limits.low + limits.high)
    return max(0.0, limits.low or 0.0) if limits.low is not None else min(0.0, limits.high or 0.0)


class State(NamedTuple):
    """What is known after a run. `shown`: how well the check repeats here was shown, so that one run may prove.

    s, dof: the scatter between runs and the degrees of freedom that it is known with; readings: variance of what else a
    run has of its own.
    """

    belief: GaussianState
    s: float
    dof: float
    readings: float
    shown: bool

    @property
    def run(self) -> float:
        """Variance of one run."""
        return self.s * self.s + self.readings


@dataclass(frozen=True, slots=True)
class Ways:
    """Minutes to be expected until it is proven in. turned: with the `move` first; inf where it may not be turned."""

    again: float
    turned: float
    move: float


@dataclass(frozen=True, slots=True)
class Ahead:
    """What does not change from step to step: limits, the place aimed at, minutes of the check and of a move.

    settling: standard deviation by which a move settles. step: of the hand; 0 where it moves as finely as one likes.
    common: variance of what all runs share, as an instrument's limit of error, which no run betters."""

    limits: ToleranceLimits
    target: float
    check_minutes: float
    move_minutes: float
    settling: float
    step: float
    common: float = 0.0

    def ways(self, state: State, ahead: int = AHEAD) -> Ways:
        """Both ways on from here."""
        move = self.move_of(state.belief)
        there = state._replace(belief=state.belief.moved(move, self.settling))
        cost = self.move_minutes + self.check_minutes
        if ahead:
            turned = cost + self._after(there, ahead - 1, made=False)
            if state.belief.xx <= 0.0:
                return Ways(math.inf, turned, move)
            again = self.check_minutes + self._after(state, ahead - 1, made=True)
        else:
            turned = cost + self._last(there)
            _, within, _ = self._spans(state)
            again = self.check_minutes + (1.0 - within) * (turned - (0.0 if state.shown else self.check_minutes))
        return Ways(again, turned if self._known_way(state) and move else math.inf, move)

    def move_of(self, belief: GaussianState) -> float:
        """The move after which the expected squared error is least, as a hand can make it."""
        move = belief.move_to(self.target)
        return round(move / self.step) * self.step if self.step else move

    def aimed(self, state: State) -> float:
        """Minutes to be expected when all that is left is well aimed moves, or one of them and runs."""
        r = state.run
        aimed = GaussianState(self.target, 1.0, r + self.settling**2, 0.0, 0.0, state.s * state.s)
        _, within, _ = self._spans(state._replace(belief=aimed))
        by_moves = (self.move_minutes + self.check_minutes) / max(within, NEVER)
        room = (0.5 * self._half_width() / _Z) ** 2 - self.common
        runs = max(1.0, r / room) if room > 0.0 else math.inf
        return min(by_moves, self.move_minutes + self.check_minutes * runs)

    def _half_width(self) -> float:
        low, high = self.limits.low, self.limits.high
        return 0.5 * (high - low) if low is not None and high is not None else math.inf

    def _known_way(self, state: State) -> bool:
        belief = state.belief
        margin = _quantile(_freedom(belief, state.dof)) * math.sqrt(belief.xx + self.common)
        return abs(belief.x - self.target) >= margin

    def _last(self, state: State) -> float:
        _, within, _ = self._spans(state)
        return (1.0 - within) * self.aimed(state) + (0.0 if state.shown else self.check_minutes)

    def _left(self, state: State, ahead: int) -> float:
        if state.shown and self.proves(state):
            return 0.0
        ways = self.ways(state, ahead)
        return min(ways.again, ways.turned)

    def _after(self, state: State, ahead: int, *, made: bool) -> float:
        """Minutes after one more run; `made`: nothing was touched before it, so that it shows how runs repeat."""
        belief = state.belief
        spans = self._spans(state)
        ends = state.shown or made
        sd = math.sqrt(belief.xx + state.run)
        total = 0.0
        for chance, place in _places(spans, within=not ends):
            off = _NORMAL.inv_cdf(min(max(place, 1e-12), 1.0 - 1e-12))
            after = self._found(state, belief.x + sd * off, off, made=made)
            total += chance * self._left(after, ahead)
        return total

    def _found(self, state: State, z: float, off: float, *, made: bool) -> State:
        belief = state.belief.found(z, state.run, state.s * state.s)
        if not made or math.isinf(state.dof):
            return state._replace(belief=belief, shown=state.shown or made)
        share = state.s * state.s / state.run if state.run > 0.0 else 0.0
        dof = state.dof + share
        factor = (state.dof + share * (1.0 + share * (off * off - 1.0))) / dof
        return State(belief.rescaled(factor), state.s * math.sqrt(factor), dof, state.readings, shown=True)

    def _spans(self, state: State) -> tuple[float, float, float]:
        """Chances that the next run leaves it below, within, and above what would prove it in."""
        belief, r = state.belief, state.run
        if belief.xx + r <= 0.0:
            within = float(self.limits.hold(belief.x))
            return (1.0 - within) / 2.0, within, (1.0 - within) / 2.0
        kx = belief.xx / (belief.xx + r)
        left = kx * r
        run = (1.0 - kx) ** 2 * belief.run_xx + kx * kx * state.s * state.s
        margin = _quantile(state.dof * (left / run) ** 2 if run > 0.0 else math.inf) * math.sqrt(left + self.common)
        sd = math.sqrt(max(belief.xx - left, 1e-30))
        low = -math.inf if self.limits.low is None else self.limits.low + margin
        high = math.inf if self.limits.high is None else self.limits.high - margin
        if low >= high:
            middle = _below((0.5 * (low + high) - belief.x) / sd)
            return middle, 0.0, 1.0 - middle
        below, above = _below((low - belief.x) / sd), _below((belief.x - high) / sd)
        return below, max(0.0, 1.0 - below - above), above

    def proves(self, state: State) -> bool:
        """Whether it is in with the chance that proves."""
        belief = state.belief
        margin = _quantile(_freedom(belief, state.dof)) * math.sqrt(belief.xx + self.common)
        low, high = self.limits.low, self.limits.high
        return (low is None or belief.x - margin >= low) and (high is None or belief.x + margin <= high)


def _places(spans: tuple[float, float, float], *, within: bool) -> Iterator[tuple[float, float]]:
    """(chance, place among all that the next run may show) for each of a few that stand for the others."""
    low, middle, high = spans
    share = 1.0 / len(TAIL)
    for part in TAIL:
        if low > NEVER:
            yield low * share, low * part
        if high > NEVER:
            yield high * share, 1.0 - high * part
        if within and middle > NEVER:
            yield middle * share, low + middle * part


def _freedom(belief: GaussianState, dof: float) -> float:
    """Degrees of freedom of what is believed (Welch-Satterthwaite; all but the scatter between runs taken as known)."""
    return dof * (belief.xx / belief.run_xx) ** 2 if belief.run_xx > 0.0 else math.inf


def _below(z: float) -> float:
    return 0.5 * math.erfc(-z * _ROOT_HALF)


def _quantile(dof: float) -> float:
    """Student's t at the chance that proves, by its expansion in 1 / dof (Abramowitz and Stegun 26.7.5).

    At three degrees of freedom 0.3 % too little, and a hundred times as quick as the exact one.
    """
    z, n = _Z, 1.0 / max(dof, 2.0)
    z2 = z * z
    g1 = (z2 + 1.0) / 4.0
    g2 = ((5.0 * z2 + 16.0) * z2 + 3.0) / 96.0
    g3 = (((3.0 * z2 + 19.0) * z2 + 17.0) * z2 - 15.0) / 384.0
    return z * (1.0 + n * (g1 + n * (g2 + n * g3)))
