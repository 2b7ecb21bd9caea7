"""The decision about a feature: proven in, proven out, or not proven.

ISO 14253-1 (conformity and non-conformity proven, at the 95 % conformance probability) with the conformance
probability of JCGM 106:2012, clause 7. A safety item that is not proven counts as not ready.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from trued.measure.estimate import Uncertain, chance_between

LEVEL = 0.95


class Decision(StrEnum):
    """The three decisions, as scripts, library and docs name them."""

    PROVEN_IN = "proven-in"
    PROVEN_OUT = "proven-out"
    NOT_PROVEN = "not-proven"


SAID = {
    Decision.PROVEN_IN: "true, sure enough",
    Decision.PROVEN_OUT: "out, sure enough",
    Decision.NOT_PROVEN: "cannot tell yet",
}
"""What a page says for each decision: the one map between the code's words and a person's."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Tolerance of a feature in its own unit (mm or rad); None leaves a side open, but not both."""

    low: float | None
    high: float | None

    def __post_init__(self) -> None:
        if self.low is None and self.high is None:
            raise ValueError("a tolerance needs at least one limit")
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise ValueError(f"the lower limit must lie below the upper one: {self.low} and {self.high}")

    @classmethod
    def within(cls, tolerance: float) -> Limits:
        """Both ways the same: -tolerance to +tolerance."""
        return cls(-tolerance, tolerance)

    def hold(self, x: float) -> bool:
        """Whether a known value lies within the limits."""
        return (self.low is None or x >= self.low) and (self.high is None or x <= self.high)


def chance_in(x: Uncertain, limits: Limits) -> float:
    """Chance that the feature lies within its limits."""
    return chance_between(x, limits.low, limits.high)


def decide(x: Uncertain, limits: Limits, *, level: float = LEVEL, may_prove_in: bool = True) -> Decision:
    """Proven in at `level` or more, proven out at 1 - level or less, else not proven.

    `may_prove_in` is False while the scatter between runs is only assumed: then nothing is proven in.
    """
    return judge(chance_in(x, limits), level=level, may_prove_in=may_prove_in)


def judge(chance: float, *, level: float = LEVEL, may_prove_in: bool = True) -> Decision:
    """The decision for a feature that lies within its limits with that `chance`; the rule of `decide`."""
    if chance <= 1.0 - level:
        return Decision.PROVEN_OUT
    if chance >= level and may_prove_in:
        return Decision.PROVEN_IN
    return Decision.NOT_PROVEN
