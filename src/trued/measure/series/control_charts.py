"""Control charts: individuals with moving range, EWMA, and the two-sided tabular CUSUM.

NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 to 6.3.2.4. The standard deviation of an individuals chart is
the mean moving range over d2 = 1.128, rounded as the handbook has it (exactly 2 / sqrt(pi) = 1.12838); the limit of
the moving range is D4 = 3.267 times its mean.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

D2 = 1.128
D4 = 3.267
SIGMAS = 3.0


@dataclass(frozen=True, slots=True)
class Chart:
    """What was charted, with its limits. `values` may be the data or a running figure of them; `out` are places whose
    value lies beyond a limit, counted from 0."""

    values: tuple[float, ...]
    centre: float
    low: float
    high: float

    @property
    def out(self) -> tuple[int, ...]:
        """Places beyond a limit."""
        return tuple(i for i, value in enumerate(self.values) if not self.low <= value <= self.high)


@dataclass(frozen=True, slots=True)
class Individuals:
    """The values about their mean, and their moving ranges (one less of them)."""

    values: Chart
    ranges: Chart

    @property
    def s(self) -> float:
        """Standard deviation by the mean moving range."""
        return self.ranges.centre / D2


def individuals(values: Sequence[float]) -> Individuals:
    """Individuals and moving range of at least two values in their order."""
    if len(values) < 2:
        raise ValueError(f"a moving range needs at least two values, got {len(values)}")
    centre = math.fsum(values) / len(values)
    ranges = tuple(abs(b - a) for a, b in pairwise(values))
    mean = math.fsum(ranges) / len(ranges)
    half = SIGMAS * mean / D2
    return Individuals(
        Chart(tuple(values), centre, centre - half, centre + half),
        Chart(ranges, mean, 0.0, D4 * mean),
    )


def ewma(values: Sequence[float], target: float, s: float, weight: float = 0.3, sigmas: float = SIGMAS) -> Chart:
    """Exponentially weighted moving average that starts at the target, with the limits that it comes to in the end.

    `weight` (0 to 1) is that of the newest value; s the standard deviation of one value.
    """
    if not (0.0 < weight <= 1.0 and s >= 0.0):
        raise ValueError(f"a weight lies above 0 and up to 1 and s is 0 or more, got {weight} and {s}")
    running, told = target, []
    for value in values:
        running = weight * value + (1.0 - weight) * running
        told.append(running)
    half = sigmas * s * math.sqrt(weight / (2.0 - weight))
    return Chart(tuple(told), target, target - half, target + half)


@dataclass(frozen=True, slots=True)
class Cusum:
    """Sums of what goes beyond the target by more than the slack, upward and downward; both 0 or more."""

    up: tuple[float, ...]
    down: tuple[float, ...]
    decide: float

    @property
    def out(self) -> tuple[int, ...]:
        """Places where either sum lies above the decision limit."""
        both = zip(self.up, self.down, strict=True)
        return tuple(i for i, (up, down) in enumerate(both) if max(up, down) > self.decide)

    def begun(self, place: int) -> int:
        """Where the run that leads to a place began: the first place after its sum was last nought."""
        sums = self.up if self.up[place] >= self.down[place] else self.down
        return max((i + 1 for i in range(place) if sums[i] == 0.0), default=0)


def cusum(values: Sequence[float], target: float, slack: float, decide: float) -> Cusum:
    """Tabular CUSUM: `slack` k and decision limit h in the unit of the values; k is half the shift to be seen."""
    up = down = 0.0
    ups, downs = [], []
    for value in values:
        up = max(0.0, up + value - target - slack)
        down = max(0.0, down + target - value - slack)
        ups.append(up)
        downs.append(down)
    return Cusum(tuple(ups), tuple(downs), decide)
