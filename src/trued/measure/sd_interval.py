"""What is known of a standard deviation itself, as when the question is how well a stop repeats.

dof * s^2 / sigma^2 follows chi-square, so with few readings a scatter may well be twice what was seen and hardly
half of it: the interval is lopsided, and no value +- k u says it rightly.
"""

from __future__ import annotations

import math

from trued.measure.decision import Chances, ToleranceLimits
from trued.measure.distribution.chi_square import chi_square_cdf, chi_square_quantile
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue


def sd_uncertainty(key: str, label: str, scatter: EstimatedSd) -> UncertainValue:
    """A scatter as an uncertain value: u = s / sqrt(2 dof) to first order (GUM E.4.3)."""
    return UncertainValue.of(scatter.s, ErrorSource(key, label, scatter.s / math.sqrt(2.0 * scatter.dof), scatter.dof))


def sd_interval(scatter: EstimatedSd, level: float = 0.95) -> tuple[float, float]:
    """Interval that holds the true standard deviation with `level` chance, as much outside at either end."""
    square = scatter.dof * scatter.s**2
    most, least = (chi_square_quantile(0.5 + side * level / 2.0, scatter.dof) for side in (1, -1))
    return math.sqrt(square / most), math.sqrt(square / least)


def spread_chance(scatter: EstimatedSd, low: float | None, high: float | None) -> float:
    """Chance that the true standard deviation lies between `low` and `high`; None leaves that side open."""
    below_high = 1.0 if high is None else _chance_below(scatter, high)
    below_low = 0.0 if low is None else _chance_below(scatter, low)
    return max(0.0, below_high - below_low)


def spread_chances(scatter: EstimatedSd, limits: ToleranceLimits) -> Chances:
    """Chance that the true standard deviation lies below its limits, inside, and above."""
    below = 0.0 if limits.low is None else _chance_below(scatter, limits.low)
    above = 0.0 if limits.high is None else 1.0 - _chance_below(scatter, limits.high)
    return Chances(below, spread_chance(scatter, limits.low, limits.high), above)


def _chance_below(scatter: EstimatedSd, limit: float) -> float:
    if limit <= 0.0:
        return 0.0
    return 1.0 - chi_square_cdf(scatter.dof * (scatter.s / limit) ** 2, scatter.dof)
