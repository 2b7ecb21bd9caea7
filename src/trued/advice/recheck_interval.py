"""When a feature that is proven in is to be looked at again."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

from trued.measure.decision import LEVEL, ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue, chance_between
from trued.standing.feature import named
from trued.standing.feature_status import LookAgain
from trued.standing.history.event import EVENTS

MOST_DAYS = 365.0
"""Once a year at the latest where a thing wanders at all: common practice."""
USE_DAYS = 3.0
"""One session of use wanders like so many days of rest: common practice."""
_STEPS = 12


def recheck_interval(
    feature: str, x: UncertainValue, limits: ToleranceLimits, drift: EstimatedSd | None, now: datetime
) -> LookAgain:
    """For a feature that lies within its limits with at least the usual chance at `now`."""
    events = tuple(event.text for event in EVENTS.values() if event.doubt_of(named(feature)) is not None)
    if drift is None:
        return LookAgain(events, None, None)
    days = days_left(x, limits, drift)
    return LookAgain(events, max(1, round(days / USE_DAYS)), now + timedelta(days=max(1, math.floor(days))))


def days_left(x: UncertainValue, limits: ToleranceLimits, drift: EstimatedSd) -> float:
    """Days until the chance to be within the limits falls to the level at which things are proven."""

    def holds(days: float) -> bool:
        wandered = ErrorSource("drift", "time to come", drift.s * math.sqrt(days), drift.dof)
        return chance_between(UncertainValue(x.value, {**x.parts, wandered: 1.0}), limits.low, limits.high) >= LEVEL

    if holds(MOST_DAYS):
        return MOST_DAYS
    low, high = 0.0, MOST_DAYS
    for _ in range(_STEPS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low
