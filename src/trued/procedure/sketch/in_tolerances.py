"""Deviations drawn to one scale, that of the tolerance: what is true is straight, and what is out leaves the band.

One tolerance is as long on every drawing; what is out by more than four is drawn as four, so that it stays in sight.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.drawing.shapes import Label, Line, Path, Point
from trued.measure.decision import ToleranceLimits
from trued.procedure.declaration import FeatureResult
from trued.procedure.sketch.pieces import Shape

STEP = 1.2  # units at the far end for one tolerance: about 15 px of a picture that is 360 px wide
MOST = 4.0  # tolerances; what is farther out is drawn there
BAND = "true if inside"


@dataclass(frozen=True, slots=True)
class InTolerances:
    """A deviation in tolerances (1: at the limit, where both sides are allowed alike) with the band that is allowed."""

    at: float
    low: float
    high: float

    @property
    def far(self) -> float:
        """How far from straight it is drawn, in units, at the far end of what is drawn."""
        return STEP * self.at

    @property
    def band(self) -> tuple[float, float]:
        """Its limits in the same units; a side without a limit goes as far as anything is drawn."""
        return STEP * self.low, STEP * self.high


def in_tolerances(found: FeatureResult) -> InTolerances:
    """What was found, for drawing. Without limits it is drawn by its way alone, at one tolerance."""
    value, limits = found.value.value, found.limits
    if limits is None:
        return InTolerances((value > 0.0) - (value < 0.0), 0.0, 0.0)
    size = _size(limits)
    ends = (limits.low, -MOST), (limits.high, MOST)
    low, high = (side if end is None else _drawn(end / size) for end, side in ends)
    return InTolerances(_drawn(value / size), low, high)


def _size(limits: ToleranceLimits) -> float:
    """One tolerance: half of what is allowed where that has two ends, else the one limit."""
    if limits.low is not None and limits.high is not None:
        return (limits.high - limits.low) / 2.0
    return abs(limits.high if limits.high is not None else limits.low or 0.0) or 1.0


def _drawn(tolerances: float) -> float:
    return max(-MOST, min(MOST, tolerances))


def wedge(pivot: Point, far: Point, across: Point, band: tuple[float, float]) -> list[Shape]:
    """The band about the line from `pivot` to `far`: `across` points, with length 1, to where a value above 0 goes."""
    ends = [(far[0] + across[0] * side, far[1] + across[1] * side) for side in band]
    return [Path((pivot, *ends), "band"), *(Line(pivot, end, "limit", dashed=True) for end in ends)]


def leaned(points: Sequence[Point], pivot: Point, far: Point, across: Point, by: float) -> tuple[Point, ...]:
    """Points of a straight thing as it leans about `pivot`: at `far` it stands `by` units to the side `across`."""
    run = (far[0] - pivot[0], far[1] - pivot[1])
    long = run[0] ** 2 + run[1] ** 2
    shares = [((x - pivot[0]) * run[0] + (y - pivot[1]) * run[1]) / long for x, y in points]
    return tuple(
        (x + across[0] * by * share, y + across[1] * by * share) for (x, y), share in zip(points, shares, strict=True)
    )


def band_label(at: Point) -> Label:
    """What the band is, beside it."""
    return Label(at, BAND, "limit")
