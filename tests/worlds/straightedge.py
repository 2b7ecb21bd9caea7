"""Straightedges and faces as profiles, one laid against the other until it rests; any one unit of length.

A profile says how far a face lies back from a straight line at each place: hollow above 0 between its ends. Nothing of
the product is used here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

Profile = Callable[[float], float]


def hollow(depth: float, length: float, waves: Sequence[float] = ()) -> Profile:
    """A parabola from 0 to `length`; `waves` are heights at equal steps in between, joined by straight lines."""

    def profile(x: float) -> float:
        t = x / length
        even = depth * 4.0 * t * (1.0 - t)
        if not waves:
            return even
        n = len(waves) - 1
        i = min(int(t * n), n - 1)
        return even + waves[i] + (waves[i + 1] - waves[i]) * (t * n - i)

    return profile


@dataclass
class Straightedge:
    """`own` is its edge's profile over its length: hollow above 0. It is compared with a face at so many `steps`."""

    own: Profile
    length: float
    steps: int = 120

    def gaps(self, face: Profile, at: Sequence[float], *, turned: bool = False) -> list[float]:
        """Laid against a face of the same length and pressed in the middle; read at the places `at`."""

        def between(x: float) -> float:
            return face(x) + self.own(self.length - x if turned else x)

        start, slope = rest([(x, between(x)) for x in (self.length * n / self.steps for n in range(self.steps + 1))])
        return [between(x) - start - slope * x for x in at]

    def scribed(self, at: float) -> float:
        """Between the line that it draws lying below, and the one that it draws from above through the same ends."""
        first, last = self.own(0.0), self.own(self.length)
        chord = first + (last - first) * at / self.length
        from_below = -(self.own(at) - chord)
        from_above = self.own(at) - chord
        return from_above - from_below


def rest(points: list[tuple[float, float]]) -> tuple[float, float]:
    """(height at 0, slope) of the line under all points on which a bar comes to rest when pressed in the middle."""
    hull: list[tuple[float, float]] = []
    for p in points:
        while len(hull) > 1 and _turn(hull[-2], hull[-1], p) <= 0.0:
            hull.pop()
        hull.append(p)
    middle = 0.5 * (points[0][0] + points[-1][0])
    p, q = next((p, q) for p, q in pairwise(hull) if p[0] <= middle <= q[0])
    slope = (q[1] - p[1]) / (q[0] - p[0])
    return p[1] - slope * p[0], slope


def _turn(o: tuple[float, float], p: tuple[float, float], q: tuple[float, float]) -> float:
    return (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0])
