"""Weights over table and wings, by the checker's own sums and nothing of the product. Inches, pounds.

x grows to the keeper side of the blade, y toward the operator from the arbor.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import hypot, sqrt

Point = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """A rectangle seen from above."""

    x0: float
    x1: float
    y0: float
    y1: float

    def meet(self, other: Box) -> Box | None:
        """What both cover."""
        x0, x1 = max(self.x0, other.x0), min(self.x1, other.x1)
        y0, y1 = max(self.y0, other.y0), min(self.y1, other.y1)
        return Box(x0, x1, y0, y1) if x0 < x1 and y0 < y1 else None

    def corners(self) -> list[Point]:
        """Its four corners."""
        return [(self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1)]

    def inside(self, point: Point) -> float:
        """How far inside its nearest edge a point lies; below 0 outside."""
        return min(point[0] - self.x0, self.x1 - point[0], point[1] - self.y0, self.y1 - point[1])


def ring(points: Iterable[Point]) -> list[Point]:
    """The outline around points, by wrapping a string round them."""
    left = sorted(set(points))
    if len(left) < 3:
        return left
    start, here, around = left[0], left[0], []
    while True:
        around.append(here)
        best = left[0] if left[0] != here else left[1]
        for point in left:
            turn = _cross(here, best, point)
            if turn < -1e-12 or (abs(turn) <= 1e-12 and _far(here, point) > _far(here, best)):
                best = point
        here = best
        if here == start or len(around) > len(left):
            return around


def inside_ring(around: list[Point], point: Point) -> float:
    """How far inside the outline a point lies; below 0 it lies outside, and what it carries tips."""
    if len(around) < 3:
        return -1.0
    least = float("inf")
    for one, two in zip(around, [*around[1:], around[0]], strict=True):
        least = min(least, _cross(one, two, point) / _far(one, two))
    return least


def chord(radius: float, height: float, level: float) -> float:
    """Half the length of blade that stands in a plane: the teeth before and behind the arbor."""
    return sqrt(max(0.0, radius**2 - (radius - height + level) ** 2))


@dataclass(frozen=True)
class OnSled:
    """One crosscut on a sled: who carries, what lies on it, how high the blade stands."""

    grounds: list[Box]
    across: float
    along: float
    base: float
    crosscut: float
    weight: float
    centre: float
    fence_far: bool
    radius: float
    height: float
    keeper: float
    tail: float
    wide: float
    thick: float
    pounds_ft3: float

    def margins(self) -> Iterator[tuple[float, float]]:
        """All along the way, out with the piece and back with the keeper: (sled with piece, the piece on the base)."""
        start = chord(self.radius, self.height, self.base)
        end = chord(self.radius, self.height, self.base + self.thick) - self.wide
        for tail in (self.tail, 0.0):
            for step in range(33):
                yield self._at(start + (end - start) * step / 32, tail)

    def _at(self, far_edge: float, tail: float) -> tuple[float, float]:
        face = far_edge if self.fence_far else far_edge + self.wide
        low = face + self.crosscut - self.along if self.fence_far else face - self.crosscut
        base = Box(0.0, self.across, low, low + self.along)
        work_weight = (self.keeper + tail) * self.wide * self.thick / 1728 * self.pounds_ft3
        work = ((self.keeper - tail) / 2, far_edge + self.wide / 2)
        sled = (self.centre, low + self.along / 2)
        both = work_weight + self.weight
        middle = tuple((work[n] * work_weight + sled[n] * self.weight) / both for n in (0, 1))
        rests = [met for ground in self.grounds if (met := ground.meet(base))]
        held = inside_ring(ring(corner for box in rests for corner in box.corners()), (middle[0], middle[1]))
        return held, base.inside(work)


def _cross(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _far(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])
