"""Several readings in the order taken: how far they scatter, their mean, and whether they creep."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.distribution.student import t_quantile
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.fitting.line import Line, fit_line
from trued.measure.instrument import Instrument

RARE = 0.001  # a clean series is taken for one that creeps once in 500: two sides of this
LEAST_FOR_SERIES = 4


def floor_of(instrument: Instrument) -> float:
    """The least standard deviation that an instrument's steps leave to one reading: step / sqrt(12)."""
    return instrument.resolution / math.sqrt(12.0)


def deviation(values: Sequence[float]) -> float:
    """Standard deviation of two readings or more, n - 1."""
    mean = math.fsum(values) / len(values)
    return math.sqrt(math.fsum((v - mean) ** 2 for v in values) / (len(values) - 1))


def scatter_of(values: Sequence[float], instrument: Instrument) -> EstimatedSd:
    """Scatter of two readings or more by themselves: n - 1 degrees of freedom, never finer than the steps show."""
    return EstimatedSd(max(deviation(values), floor_of(instrument)), len(values) - 1)


def own_mean(key: str, label: str, values: Sequence[float], instrument: Instrument) -> UncertainValue:
    """Mean of two readings or more with their own scatter only; no limit of error is added.

    The mean is better than one reading only where the scatter is wide enough to be seen (half a step).
    """
    known = scatter_of(values, instrument)
    share = math.sqrt(len(values)) if known.s >= instrument.resolution / 2.0 else 1.0
    return UncertainValue.of(math.fsum(values) / len(values), ErrorSource(key, label, known.s / share, known.dof))


def creep(values: Sequence[float], instrument: Instrument) -> Line | None:
    """The line through a series that rises or falls by more than its scatter about it; None where it does not.

    The t test of the slope at 1 in 500, the scatter never taken finer than the instrument shows.
    """
    if len(values) < LEAST_FOR_SERIES:
        return None
    line = fit_line(range(len(values)), values)
    s = max(line.s, floor_of(instrument))
    return line if abs(line.slope) * math.sqrt(line.sxx) > t_quantile(1.0 - RARE, line.dof) * s else None
