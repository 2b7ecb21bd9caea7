"""A finding that disagrees with the others by more than its uncertainty: set aside and shown, not averaged in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from trued.measure.estimate import Source
from trued.measure.student import t_quantile

OTHER_CHECK = 0.01
"""Another check that should have shown the same: a miss that rare (two-sided) is no chance."""
SAME_CHECK = 1e-4
"""The same check with nothing touched: only a slip of the hand or something that nobody told differs so much."""

NEVER_RARE = 2.5
"""Standard deviations within which no miss is so rare, however well the scatter is known: spares most quantiles."""


@dataclass(frozen=True, slots=True)
class SetAside:
    """One finding that does not count, why, and what would bring it back: another that agrees with it."""

    run: str
    check: str
    at: datetime
    value: float
    own: float
    run_variance: float
    common: tuple[tuple[Source, float], ...]
    why: str


def too_far(miss: float, sd: float, dof: float, rare: float) -> bool:
    """Whether a miss is rarer than `rare`, of either sign, by Student's t."""
    if sd <= 0.0 or abs(miss) <= NEVER_RARE * sd:
        return False
    return abs(miss) > t_quantile(1.0 - rare / 2.0, round(dof, 1)) * sd
