"""Runs of one check with nothing touched between them: how far they differ is how well it repeats."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from trued.standing.error_split import ErrorSplit
from trued.standing.history.history import Result

DAY = 86400.0


@dataclass(frozen=True, slots=True)
class Innovation:
    """How far a run was from what was to be expected: `gain` times the scatter between runs, and `other` variance."""

    size: float
    gain: float
    other: float


@dataclass(frozen=True, slots=True)
class RepeatRuns:
    """`n` runs of `check` as sums of their values and of the variance that their readings own; `last` is the time."""

    check: str = ""
    n: int = 0
    total: float = 0.0
    readings: float = 0.0
    last: datetime | None = None

    def with_run(self, row: Result, split: ErrorSplit) -> RepeatRuns:
        """The group with one more run; a run of another check begins another."""
        if row.check != self.check:
            return RepeatRuns(row.check, 1, row.x.value, split.readings, row.at)
        total, readings = self.total + row.x.value, self.readings + split.readings
        return RepeatRuns(self.check, self.n + 1, total, readings, row.at)

    def miss(self, row: Result, split: ErrorSplit, drift: float) -> Innovation | None:
        """The run against the mean of those before; None when there is none.

        (x_k - mean of the k - 1 before) sqrt((k - 1) / k) are independent and have each the variance of one run
        (Helmert's contrasts), so k runs count as k - 1; for two runs it is their difference / sqrt(2).
        """
        if row.check != self.check or not self.n or self.last is None:
            return None
        shrink = self.n / (self.n + 1.0)
        days = max(0.0, (row.at - self.last).total_seconds() / DAY)
        readings = split.readings + self.readings / self.n**2
        size = (row.x.value - self.total / self.n) * math.sqrt(shrink)
        return Innovation(size, split.gain, shrink * (readings + drift**2 * days))
