"""A finding that disagrees with the others by more than its uncertainty: set aside and shown, not averaged in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from trued.measure.distribution.student import t_quantile
from trued.measure.estimate import ErrorSource

OTHER_CHECK = 0.01
"""Another check that should have shown the same: a miss that rare (two-sided) is no chance."""
SAME_CHECK = 1e-4
"""The same check with nothing touched: only a slip of the hand or something that nobody told differs so much."""

LOOSEST = 3.0
"""So many times worse than usual a procedure repeats at most where it is done in one way: common practice; of 2,000
virtual shops (benchmarks/virtual) the loosest repeats 2.5 times worse."""

NEVER_RARE = 2.5
"""Standard deviations within which no miss is so rare, however well the scatter is known: spares most quantiles."""


@dataclass(frozen=True, slots=True)
class Outlier:
    """One finding that does not count, why, and what would bring it back: another that agrees with it."""

    run: str
    check: str
    at: datetime
    value: float
    own: float
    run_variance: float
    common: tuple[tuple[ErrorSource, float], ...]
    why: str


def is_outlier(miss: float, sd: float, dof: float, rare: float) -> bool:
    """Whether a miss is rarer than `rare`, of either sign, by Student's t."""
    if sd <= 0.0 or abs(miss) <= NEVER_RARE * sd:
        return False
    return abs(miss) > most_apart(rare, dof) * sd


def most_apart(rare: float, dof: float) -> float:
    """Standard deviations that a miss reaches so rarely: Student's t, but no more than a shop that repeats `LOOSEST`
    times worse than was taken for usual would show. With 3 degrees of freedom t alone would excuse 28 of them."""
    return min(t_quantile(1.0 - rare / 2.0, round(dof, 1)), LOOSEST * t_quantile(1.0 - rare / 2.0, math.inf))
