"""What arrived of each move, by the runs before it and after it alone, and what is wrong when it is always too little,
always too much, or short when it was turned back.

Beside the filter, which gives up a case for another after one odd move: several moves that agree are no slip.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import accumulate
from statistics import NormalDist

from trued.measure.distribution.student import t_quantile
from trued.standing.filtered.gain_mixture import ORDINARY, STUCK, TOO_FAR

CLAMPED, BACKLASH = "clamp-moves-fence", "backlash"
USUAL = (0.8, 1.2)  # what arrives of a move, common practice
TOUCHES, TWICE = 0.25, 1.5  # less than this is nothing, more than this is about twice; common practice
SURE, AGREE = 0.95, 2.5  # chance; standard deviations within which moves tell one story
SURER = 0.98  # that it goes too far: a person who reads badly turns back and forth as well
FEWEST, MOST = 2, 6  # moves that make a story; so many of the last are looked at
LEAST = 1e-30  # rad²: no variance is taken smaller

_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class ObservedGain:
    """One move u with the means of the runs before and after it; `own` is the variance of one run, known like from
    `dof` readings, `since` the time of the first run after it."""

    u: float
    since: datetime
    before: float
    runs_before: int
    after: float
    own: float
    settling: float
    runs_after: int = 1
    dof: float = math.inf

    def again(self, mean: float, runs: int) -> ObservedGain:
        """With the mean of more runs after it."""
        return ObservedGain(
            self.u, self.since, self.before, self.runs_before, mean, self.own, self.settling, runs, self.dof
        )

    @property
    def share(self) -> float:
        """What part of it arrived."""
        return (self.before - self.after) / self.u

    @property
    def sd(self) -> float:
        """Standard deviation of that part."""
        runs = self.own * (1.0 / self.runs_before + 1.0 / self.runs_after)
        return math.sqrt(runs + self.settling**2) / abs(self.u)


def gain_fault(arrivals: Sequence[ObservedGain]) -> str:
    """The name of what the last moves show together; "" where they show nothing, or do not agree."""
    linked = _linked(arrivals)
    if _turned_back_short(linked):
        return BACKLASH
    if len(linked) < FEWEST:
        return ""
    mean, sd = mean_gain(linked)
    if any(abs(a.share - mean) > AGREE * a.sd for a in linked):
        return ""
    if _NORMAL.cdf((USUAL[0] - mean) / sd) >= SURE and mean > -TOUCHES:
        return STUCK.blunder if mean < TOUCHES else CLAMPED
    far = (mean - USUAL[1]) / sd > t_quantile(SURER, round(linked[-1].dof, 1))
    return TOO_FAR.blunder if far and mean > TWICE else ""


def mean_gain(linked: Sequence[ObservedGain]) -> tuple[float, float]:
    """What part of the moves arrives, and its standard deviation: the slope of the line through the means of the runs
    over all that had been turned by then. (Two moves share the runs between them, so their parts are not apart.)
    """
    first = linked[0]
    turned = [0.0, *accumulate(a.u for a in linked)]
    found = [first.before, *(a.after for a in linked)]
    weights = [first.runs_before / max(first.own, LEAST)]
    weights += [1.0 / max(a.own / a.runs_after + a.settling**2, LEAST) for a in linked]
    total = math.fsum(weights)
    middle = math.fsum(w * t for w, t in zip(weights, turned, strict=True)) / total
    square = math.fsum(w * (t - middle) ** 2 for w, t in zip(weights, turned, strict=True))
    slope = math.fsum(w * (t - middle) * x for w, t, x in zip(weights, turned, found, strict=True)) / square
    return -slope, 1.0 / math.sqrt(square)


def _linked(arrivals: Sequence[ObservedGain]) -> Sequence[ObservedGain]:
    """The last of them that follow one another with nothing else between."""
    start = len(arrivals)
    while start and (start == len(arrivals) or arrivals[start - 1].after == arrivals[start].before):
        start -= 1
    return arrivals[start:]


def _turned_back_short(linked: Sequence[ObservedGain]) -> bool:
    """The last move was turned back, and less of it arrived than of the moves before: play takes up its start."""
    if len(linked) < FEWEST:
        return False
    last, before = linked[-1], linked[:-1]
    if last.u * before[-1].u > 0.0:
        return False
    seen, sd = mean_gain(before)
    weight = ORDINARY.u**2 / (ORDINARY.u**2 + sd**2)  # few moves: what moves usually do counts too
    usual, doubt = ORDINARY.g + weight * (seen - ORDINARY.g), math.sqrt(weight) * sd
    short = (usual - last.share) / math.hypot(doubt, last.sd)
    return short > AGREE and last.share > -AGREE * last.sd
