"""Student's t distribution: the chance below a value, and the value below which a chance lies.

Source: the regularised incomplete beta function by its continued fraction (Abramowitz and Stegun 26.5.8,
26.7.1), summed as in W. J. Lentz, Applied Optics 15 (1976) 668, with the care of I. J. Thompson and A. R. Barnett,
J. Comput. Phys. 64 (1986) 490; checked against GUM Table G.2 and a reference library in the tests. Standard library
only, because a check at the saw must answer at once.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from statistics import NormalDist

_NORMAL = NormalDist()
_ALMOST_NORMAL = 1e7
_TINY = 1e-300


def t_cdf(t: float, dof: float) -> float:
    """Chance that a Student variable with `dof` degrees of freedom (> 0, may be infinite) is below `t`."""
    if dof <= 0 or math.isnan(dof):
        raise ValueError(f"degrees of freedom must be above 0, got {dof}")
    if dof >= _ALMOST_NORMAL:
        return _NORMAL.cdf(t)
    if math.isinf(t):
        return 1.0 if t > 0 else 0.0
    tail = 0.5 * beta_regularised(dof / 2, 0.5, dof / (dof + t * t), t * t / (dof + t * t))
    return 1.0 - tail if t > 0 else tail


@lru_cache(maxsize=512)
def t_quantile(chance: float, dof: float) -> float:
    """Value below which a Student variable lies with `chance` (0 < chance < 1)."""
    if not 0.0 < chance < 1.0:
        raise ValueError(f"a chance lies between 0 and 1, got {chance}")
    if dof >= _ALMOST_NORMAL:
        return _NORMAL.inv_cdf(chance)
    if chance < 0.5:
        return -t_quantile(1.0 - chance, dof)
    low, high = 0.0, 1.0
    while t_cdf(high, dof) < chance:
        high *= 2.0
    return root(lambda t: t_cdf(t, dof) - chance, low, high)


def root(rising: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function crosses nought between `low` and `high`, by false position (Illinois rule).

    It stops when a step no longer moves by 1e-12 of where it stands: the steps shrink faster than that, so all
    but the last digits are right. A function that does not cross gives the end nearer to the crossing.
    """
    at_low, at_high = rising(low), rising(high)
    if at_low >= 0.0:
        return low
    if at_high <= 0.0:
        return high
    last, kept = math.inf, 0
    for _ in range(200):
        middle = high - at_high * (high - low) / (at_high - at_low)
        if abs(middle - last) <= 1e-12 * abs(middle):
            break
        last, at_middle = middle, rising(middle)
        # The end that stays twice running is weighed half, or it would stay for ever.
        if at_middle < 0.0:
            low, at_low, at_high = middle, at_middle, at_high / (2.0 if kept > 0 else 1.0)
            kept = 1
        else:
            high, at_high, at_low = middle, at_middle, at_low / (2.0 if kept < 0 else 1.0)
            kept = -1
    return last


def beta_regularised(a: float, b: float, x: float, y: float) -> float:
    """`y` is 1 - x, given apart because the difference would lose the digits of a small one."""
    if x <= 0.0:
        return 0.0
    if y <= 0.0:
        return 1.0
    front = math.exp(math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log(y))
    if x < (a + 1.0) / (a + b + 2.0):
        return front * _fraction(a, b, x) / a
    return 1.0 - front * _fraction(b, a, y) / b


def _fraction(a: float, b: float, x: float) -> float:
    """1 / (1 + s_1 / (1 + s_2 / (1 + ...))) with the partial numerators s of Abramowitz and Stegun 26.5.8.

    Each convergent is the one before it times the ratio of neighbouring numerators over that of neighbouring
    denominators (Lentz 1976); a ratio that comes out 0 is moved aside by next to nothing (Thompson and Barnett 1986).
    """
    of_numerators, over_denominators = 1.0, 1.0 / _aside(1.0 - (a + b) * x / (a + 1.0))
    convergent = over_denominators
    for m in range(1, 500):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        change = 1.0
        for above in (even, odd):
            of_numerators = _aside(1.0 + above / of_numerators)
            over_denominators = 1.0 / _aside(1.0 + above * over_denominators)
            change = over_denominators * of_numerators
            convergent *= change
        if abs(change - 1.0) < 1e-16:
            break
    return convergent


def _aside(ratio: float) -> float:
    return ratio if abs(ratio) > _TINY else _TINY
