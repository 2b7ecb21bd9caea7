"""A straight line through points by least squares, with what it knows of its two numbers.

Sums are taken exactly (rational arithmetic), so the NIST StRD data set Norris comes out to every certified
digit; a run at the saw has a handful of points, and exactness costs nothing there.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from trued.measure.estimate import ErrorSource, UncertainValue


@dataclass(frozen=True, slots=True)
class Line:
    """y = offset + slope * x, through n points. `s` is the residual standard deviation, `dof` = n - 2 its freedom.

    `sxx` is the sum of squared distances of the x from `x_mean`. Through 2 points s and dof are 0.
    """

    offset: float
    slope: float
    offset_sd: float
    slope_sd: float
    covariance: float
    s: float
    dof: int
    x_mean: float
    n: int
    sxx: float

    def numbers(
        self, key: str, label: str, s: float | None = None, dof: float | None = None
    ) -> tuple[UncertainValue, UncertainValue]:
        """Offset and slope as uncertain values, correlated as the fit makes them.

        Height at the mean x and slope are independent in least squares: the pair is built from these two sources.
        `s` and `dof` put a better known scatter in place of the fit's own residuals; 2 points need them.
        """
        scatter = self.s if s is None else s
        freedom = self.dof if dof is None else dof
        height = ErrorSource(f"{key}:height", label, scatter / math.sqrt(self.n), freedom, pool=key)
        tilt = ErrorSource(f"{key}:slope", label, scatter / math.sqrt(self.sxx), freedom, pool=key)
        return UncertainValue(self.offset, {height: 1.0, tilt: -self.x_mean}), UncertainValue(self.slope, {tilt: 1.0})


def fit_line(xs: Sequence[float], ys: Sequence[float]) -> Line:
    """Least-squares line through 2 points or more at 2 different x or more; ValueError otherwise."""
    n = len(xs)
    if n != len(ys) or n < 2 or len(set(xs)) < 2:
        raise ValueError(f"a line needs points at 2 different places or more, got {n}")
    x, y = [Fraction(v) for v in xs], [Fraction(v) for v in ys]
    x_mean, y_mean = sum(x) / n, sum(y) / n
    sxx = sum((a - x_mean) ** 2 for a in x)
    slope = sum((a - x_mean) * (b - y_mean) for a, b in zip(x, y, strict=True)) / sxx
    offset = y_mean - slope * x_mean
    square = sum((b - offset - slope * a) ** 2 for a, b in zip(x, y, strict=True)) / max(1, n - 2)
    return Line(
        offset=float(offset),
        slope=float(slope),
        offset_sd=math.sqrt(square * (Fraction(1, n) + x_mean**2 / sxx)),
        slope_sd=math.sqrt(square / sxx),
        covariance=float(-x_mean * square / sxx),
        s=math.sqrt(square),
        dof=n - 2,
        x_mean=float(x_mean),
        n=n,
        sxx=float(sxx),
    )
