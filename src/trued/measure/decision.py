"""The decision about a feature: proven in, proven out on a named side, or not proven.

ISO 14253-1 (conformity and non-conformity proven, at the 95 % conformance probability) with the conformance
probability of JCGM 106:2012, clause 7. Non-conformity is proven against one limit: so much must lie beyond that one.
An estimate too vague for its tolerance has little chance to lie inside, and proves nothing. A safety item that is not
proven counts as not ready.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from trued.measure.estimate import UncertainValue, chance_under

LEVEL = 0.95


class Conformity(StrEnum):
    """The three decisions, as scripts, library and docs name them."""

    PROVEN_IN = "proven-in"
    PROVEN_OUT = "proven-out"
    NOT_PROVEN = "not-proven"


class Side(StrEnum):
    """On which side of its limits a feature lies."""

    BELOW = "below"
    ABOVE = "above"


SAID = {
    Conformity.PROVEN_IN: "in tolerance",
    Conformity.PROVEN_OUT: "out of tolerance",
    Conformity.NOT_PROVEN: "not known yet",
}
"""What a page says for each decision: the one map between the code's words and a person's."""


@dataclass(frozen=True, slots=True)
class ToleranceLimits:
    """Tolerance of a feature in its own unit (mm or rad); None leaves a side open, but not both."""

    low: float | None
    high: float | None

    def __post_init__(self) -> None:
        if self.low is None and self.high is None:
            raise ValueError("a tolerance needs at least one limit")
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise ValueError(f"the lower limit must lie below the upper one: {self.low} and {self.high}")

    @classmethod
    def within(cls, tolerance: float) -> ToleranceLimits:
        """Both ways the same: -tolerance to +tolerance."""
        return cls(-tolerance, tolerance)

    def hold(self, x: float) -> bool:
        """Whether a known value lies within the limits."""
        return (self.low is None or x >= self.low) and (self.high is None or x <= self.high)


@dataclass(frozen=True, slots=True)
class Chances:
    """Chance that a feature lies below its limits, inside, and above: together 1; an open side has none beyond it."""

    below: float
    inside: float
    above: float

    @classmethod
    def of(cls, x: UncertainValue, limits: ToleranceLimits) -> Chances:
        """From an estimate; one without any error lies where it lies, and on a limit it is inside."""
        if x.u == 0.0:
            below = limits.low is not None and x.value < limits.low
            above = limits.high is not None and x.value > limits.high
            return cls(float(below), float(not below and not above), float(above))
        below_low = 0.0 if limits.low is None else chance_under(x, limits.low)
        below_high = 1.0 if limits.high is None else chance_under(x, limits.high)
        return cls(below_low, max(0.0, below_high - below_low), max(0.0, 1.0 - below_high))

    @classmethod
    def mixed(cls, parts: Iterable[tuple[float, Chances]]) -> Chances:
        """Over several cases, each with its chance."""
        every = tuple(parts)
        return cls(
            math.fsum(share * c.below for share, c in every),
            math.fsum(share * c.inside for share, c in every),
            math.fsum(share * c.above for share, c in every),
        )

    def beyond(self, level: float = LEVEL) -> Side | None:
        """The one side beyond which so much lies; None where neither is known."""
        if self.below >= level:
            return Side.BELOW
        return Side.ABOVE if self.above >= level else None

    def one_sided(self, level: float = LEVEL) -> bool:
        """Against a single limit: whether so much lies on one side of it, whichever that is."""
        return max(self.below, self.inside, self.above) >= level


def conformance_probability(x: UncertainValue, limits: ToleranceLimits) -> float:
    """Chance that the feature lies within its limits."""
    return Chances.of(x, limits).inside


def decide(
    x: UncertainValue, limits: ToleranceLimits, *, level: float = LEVEL, may_prove_in: bool = True
) -> Conformity:
    """Proven in with `level` or more inside, proven out with `level` or more beyond one side, else not proven.

    `may_prove_in` is False while the scatter between runs is only assumed: then nothing is proven in.
    """
    return judge(Chances.of(x, limits), level=level, may_prove_in=may_prove_in)


def judge(chances: Chances, *, level: float = LEVEL, may_prove_in: bool = True) -> Conformity:
    """The decision for a feature with those chances; the rule of `decide`."""
    if chances.beyond(level) is not None:
        return Conformity.PROVEN_OUT
    if chances.inside >= level and may_prove_in:
        return Conformity.PROVEN_IN
    return Conformity.NOT_PROVEN
