"""A fit as a picture: how often it comes to what, against its limits, and a bar for what its doubt comes from."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import pairwise

from trued.drawing.shapes import Drawing, Label, Line, Path, Point, rectangle
from trued.job.fits.fit import FitResult
from trued.render.picture.hatch import hatch_of
from trued.units import Unit
from trued.usecases.plan.words import chance_words, small

Shape = Line | Path | Label
Bounds = tuple[float | None, float | None]
_WIDE, _HIGH, _BAR = 12.0, 3.2, 0.55
_SIGMAS, _STEPS = 3.5, 80
_MOST_BARS, _LEAST_SHARE = 4, 0.03


def fit_drawing(fit: FitResult, unit: Unit) -> Drawing:
    """The picture of a fit that was judged."""
    chance = chance_words(fit.chance)
    return fit_picture(fit.name, fit.mean_mm, fit.sd_mm, fit.limits_mm, fit.shares, fit.assumed, chance, unit, fit.dof)


def fit_picture(
    name: str,
    mean: float,
    sd: float,
    limits: Bounds,
    shares: Mapping[str, float],
    assumed: tuple[str, ...],
    chance: str,
    unit: Unit,
    dof: float = math.inf,
) -> Drawing:
    """The same from plain numbers, mm; chance in words. What lies beyond a limit is drawn as waste."""
    told = [(label, share) for label, share in shares.items() if share >= _LEAST_SHARE][:_MOST_BARS]
    bars = [(f"{label} {100 * share:.0f}%{' (assumed)' if label in assumed else ''}", share) for label, share in told]
    shapes = [*_hill(mean, sd, limits, dof, unit), *_bars(bars)]
    words = f"Expected {small(mean, unit)} (standard uncertainty {small(sd, unit)}); {chance}."
    if bars:
        words += f" Its doubt comes from {', '.join(label for label, _ in bars)}."
    return Drawing(f"{name}: what it comes to", words, tuple(shapes))


def _hill(mean: float, sd: float, limits: Bounds, dof: float, unit: Unit) -> Iterator[Shape]:
    """The curve over a line, cut at the limits, which stand as dashed posts; the mean as a short mark."""
    low, high = limits
    posts = [x for x in limits if x is not None]
    half = _SIGMAS * sd
    start, end = min(mean - half, *posts), max(mean + half, *posts)
    edge = 0.08 * ((end - start) or 1.0)
    start, span = start - edge, (end - start) + 2.0 * edge or 1.0

    def at(x: float) -> float:
        return _WIDE * (x - start) / span

    if sd > 0.0:
        inner = (
            max(mean - half, -math.inf if low is None else low),
            min(mean + half, math.inf if high is None else high),
        )
        cuts = sorted({mean - half, mean + half, *(x for x in posts if mean - half < x < mean + half)})
        for left, right in pairwise(cuts):
            inside = inner[0] <= 0.5 * (left + right) <= inner[1]
            steps = [left + (right - left) * i / _STEPS for i in range(_STEPS + 1)]
            hill: list[Point] = [(at(x), _HIGH * _density((x - mean) / sd, dof)) for x in steps]
            yield Path(((hill[0][0], 0.0), *hill, (hill[-1][0], 0.0)), hatch_of(1) if inside else "waste")
    yield Line((0.0, 0.0), (_WIDE, 0.0), "axis")
    yield Line((at(mean), 0.0), (at(mean), _HIGH * 1.05), "found")
    for limit in posts:
        words = f"{'least' if limit == low else 'most'} {small(limit, unit)}"
        yield Line((at(limit), -0.3), (at(limit), _HIGH * 1.15), "limit")
        yield Label((at(limit), -0.8), words)


def _density(z: float, dof: float) -> float:
    """Student's t or the normal distribution, 1 at its top."""
    if math.isinf(dof):
        return math.exp(-0.5 * z * z)
    return float((1.0 + z * z / dof) ** (-0.5 * (dof + 1.0)))


def _bars(shares: list[tuple[str, float]]) -> Iterator[Shape]:
    """One bar a source, as long as its part of the variance of the whole width, its words above it: one line or two."""
    for number, (words, share) in enumerate(shares):
        y = -2.5 - number * 2.5
        yield Label((0.0, y), words, anchor="start")
        yield rectangle(0.0, y - 0.8 - _BAR, _WIDE, _BAR, "stock")
        yield rectangle(0.0, y - 0.8 - _BAR, max(0.05, _WIDE * share), _BAR, hatch_of(0))
