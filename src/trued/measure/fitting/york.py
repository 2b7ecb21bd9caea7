"""A straight line where both readings of each point are uncertain, by York's iteration.

D. York and others, "Unified equations for the slope, intercept, and standard errors of the best straight line",
American Journal of Physics 72 (2004) 367. For a stop's scale it is seldom wanted: a caliper's error is a tenth of the
setting's, and ordinary least squares (line.py) is then right.

Convention of the standard errors: those of York 2004, taken at the *adjusted* points, from the given uncertainties
alone. Two others are in print and valid: at the observed points (Kalantar 1992, a little smaller here), and either one
times sqrt(chi_square / dof), where the given uncertainties count as relative only.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from trued.measure.fitting.line import fit_line


@dataclass(frozen=True, slots=True)
class YorkLine:
    """y = offset + slope * x with standard errors and covariance (see the convention above).

    `chi_square` is the weighted sum of squared distances, about `dof` = n - 2 when the uncertainties are right.
    """

    offset: float
    slope: float
    offset_sd: float
    slope_sd: float
    covariance: float
    chi_square: float
    dof: int


@dataclass(frozen=True, slots=True)
class _Point:
    x: float
    y: float
    vx: float
    vy: float
    cov: float

    def weight(self, slope: float) -> float:
        return 1.0 / (self.vy + slope * slope * self.vx - 2.0 * slope * self.cov)


def fit_york(
    xs: Sequence[float],
    x_sd: Sequence[float],
    ys: Sequence[float],
    y_sd: Sequence[float],
    correlation: Sequence[float] | None = None,
) -> YorkLine:
    """The line through 3 points or more; standard uncertainties above 0 (units of x and y), their correlation in each
    point 0 when left out. ValueError when there are fewer points or the iteration does not settle."""
    if len(xs) < 3 or min(*x_sd, *y_sd) <= 0.0:
        raise ValueError("errors in both variables need 3 points or more, and uncertainties above 0")
    r = correlation or (0.0,) * len(xs)
    rows = zip(xs, ys, x_sd, y_sd, r, strict=True)
    points = [_Point(x, y, u * u, v * v, c * u * v) for x, y, u, v, c in rows]
    slope = fit_line(xs, ys).slope
    for _ in range(200):
        last, slope = slope, _next_slope(points, slope)
        if abs(slope - last) <= 1e-14 * max(abs(slope), 1e-300):
            return _finished(points, slope)
    raise ValueError("the line with errors in both variables did not settle: look at the points and uncertainties")


def _next_slope(points: Sequence[_Point], slope: float) -> float:
    mx, my = _centre(points, slope)
    rows = [(p.weight(slope), _adjusted(p, mx, my, slope), p) for p in points]
    above = math.fsum(w * b * (p.y - my) for w, b, p in rows)
    return above / math.fsum(w * b * (p.x - mx) for w, b, p in rows)


def _centre(points: Sequence[_Point], slope: float) -> tuple[float, float]:
    total = math.fsum(p.weight(slope) for p in points)
    x = math.fsum(p.weight(slope) * p.x for p in points) / total
    return x, math.fsum(p.weight(slope) * p.y for p in points) / total


def _adjusted(p: _Point, mx: float, my: float, slope: float) -> float:
    """How far the adjusted point lies from the centre along x."""
    u, v = p.x - mx, p.y - my
    return p.weight(slope) * (u * p.vy + slope * v * p.vx - (slope * u + v) * p.cov)


def _finished(points: Sequence[_Point], slope: float) -> YorkLine:
    mx, my = _centre(points, slope)
    offset = my - slope * mx
    weights = [p.weight(slope) for p in points]
    adjusted = [mx + _adjusted(p, mx, my, slope) for p in points]
    total = math.fsum(weights)
    mean = math.fsum(w * x for w, x in zip(weights, adjusted, strict=True)) / total
    slope_square = 1.0 / math.fsum(w * (x - mean) ** 2 for w, x in zip(weights, adjusted, strict=True))
    return YorkLine(
        offset=offset,
        slope=slope,
        offset_sd=math.sqrt(1.0 / total + mean * mean * slope_square),
        slope_sd=math.sqrt(slope_square),
        covariance=-mean * slope_square,
        chi_square=math.fsum(w * (p.y - offset - slope * p.x) ** 2 for w, p in zip(weights, points, strict=True)),
        dof=len(points) - 2,
    )
