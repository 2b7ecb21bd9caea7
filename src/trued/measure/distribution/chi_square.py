"""The chi-square distribution: what a few readings say about how far a thing scatters.

Source: the regularised incomplete gamma function by its series and its continued fraction (Abramowitz and Stegun
6.5.29, 6.5.31, 26.4.19); checked against a reference library in the tests.
"""

from __future__ import annotations

import math
from functools import lru_cache

from trued.measure.distribution.student import root


def chi_square_cdf(x: float, dof: float) -> float:
    """Chance that a chi-square variable with `dof` degrees of freedom (> 0, finite) is below `x`."""
    if not (dof > 0.0 and math.isfinite(dof)):
        raise ValueError(f"degrees of freedom must be finite and above 0, got {dof}")
    if x <= 0.0:
        return 0.0
    a, half = dof / 2.0, x / 2.0
    front = math.exp(a * math.log(half) - half - math.lgamma(a))
    return front * _series(a, half) if half < a + 1.0 else 1.0 - front * _fraction(a, half)


@lru_cache(maxsize=512)
def chi_square_quantile(chance: float, dof: float) -> float:
    """Value below which a chi-square variable lies with `chance` (0 < chance < 1)."""
    if not 0.0 < chance < 1.0:
        raise ValueError(f"a chance lies between 0 and 1, got {chance}")
    high = dof + 1.0
    while chi_square_cdf(high, dof) < chance:
        high *= 2.0
    return root(lambda x: chi_square_cdf(x, dof) - chance, 0.0, high)


def _series(a: float, x: float) -> float:
    term = total = 1.0 / a
    for n in range(1, 1000):
        term *= x / (a + n)
        total += term
        if term < total * 1e-17:
            break
    return total


def _fraction(a: float, x: float) -> float:
    """Continued fraction of the upper incomplete gamma function, by the modified Lentz method."""
    tiny = 1e-300
    b = x + 1.0 - a
    c, d = 1.0 / tiny, 1.0 / b
    value = d
    for n in range(1, 1000):
        step = -n * (n - a)
        b += 2.0
        d = 1.0 / (step * d + b or tiny)
        c = b + step / c or tiny
        value *= c * d
        if abs(c * d - 1.0) < 1e-16:
            break
    return value
