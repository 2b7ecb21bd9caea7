"""The chi-square distribution: what a few readings say about how far a thing scatters.

Source: the regularised incomplete gamma function by its series and its continued fraction (Abramowitz and Stegun
6.5.29, 6.5.31, 26.4.19); checked against a reference library in the tests. The fraction is summed as in W. J. Lentz,
Applied Optics 15 (1976) 668, with the care of I. J. Thompson and A. R. Barnett, J. Comput. Phys. 64 (1986) 490.
"""

from __future__ import annotations

import math
from functools import lru_cache

from trued.measure.distribution.student import root

_ASIDE = 1e-300


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
    """1 / (x + 1 - a - 1 (1 - a) / (x + 3 - a - 2 (2 - a) / (x + 5 - a - ...))), from the front to the end (Legendre).

    Each convergent is the one before it times the ratio of neighbouring numerators over that of neighbouring
    denominators (Lentz 1976); a ratio that comes out 0 is moved aside by next to nothing (Thompson and Barnett 1986).
    """
    below = x + 1.0 - a
    of_numerators, over_denominators = 1.0 / _ASIDE, 1.0 / below
    convergent = over_denominators
    for n in range(1, 1000):
        above = n * (a - n)
        below += 2.0
        of_numerators = below + above / of_numerators or _ASIDE
        over_denominators = 1.0 / (below + above * over_denominators or _ASIDE)
        change = of_numerators * over_denominators
        convergent *= change
        if abs(change - 1.0) < 1e-16:
            break
    return convergent
