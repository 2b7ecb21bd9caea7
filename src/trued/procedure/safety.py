"""Tolerances of safety items: a person may ask for less than is allowed, never for more."""

from __future__ import annotations

from trued.measure.decision import LEVEL, Chances, ToleranceLimits
from trued.measure.estimate import UncertainValue
from trued.procedure.declaration import RunInput


def held(taken: RunInput, feature: str, allowed: ToleranceLimits | None = None) -> ToleranceLimits:
    """The tolerance asked for where it lies within what is allowed, else as much of it as does.

    allowed: where this run sets it; else what the check declares.
    """
    allowed = allowed or taken.check.feature(feature).allowed
    asked = taken.tolerance(feature, allowed)
    low = max((x for x in (asked.low, allowed.low) if x is not None), default=None)
    high = min((x for x in (asked.high, allowed.high) if x is not None), default=None)
    return allowed if low is not None and high is not None and low >= high else ToleranceLimits(low, high)


def middle(limits: ToleranceLimits) -> float:
    """Where to aim within limits on both sides: a thing set to its limit lies beyond it half of the time."""
    if limits.low is None or limits.high is None:
        raise ValueError(f"only limits on both sides have a middle, got {limits}")
    return (limits.low + limits.high) / 2.0


def surely_below(x: UncertainValue, least: float) -> bool:
    """Whether a value lies below what it must be, as surely as anything is called out."""
    return Chances.of(x, ToleranceLimits(least, None)).below >= LEVEL


def surely_above(x: UncertainValue, most: float) -> bool:
    """The same above."""
    return Chances.of(x, ToleranceLimits(None, most)).above >= LEVEL
