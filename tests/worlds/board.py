"""A board whose edge is an arc of a circle: what a string shows, and what a cut square to a fence leaves. Inches.

Positive hollow: the middle of the edge stands back from the line between its ends. Nothing of the product is used here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass
class Edge:
    length: float
    hollow: float

    @property
    def radius(self) -> float:
        return (self.length**2 / 4.0 + self.hollow**2) / (2.0 * abs(self.hollow))

    def back(self, x: float) -> float:
        """How far the edge stands back from the string at a place along it."""
        if self.hollow == 0.0:
            return 0.0
        half, r = self.length / 2.0, self.radius
        depth = math.sqrt(r**2 - (x - half) ** 2) - (r - abs(self.hollow))
        return math.copysign(depth, self.hollow)

    def end_angle(self) -> float:
        """How far a cut square to the string is from square to the edge's own end, by two points close together."""
        step = 1e-4 * self.length
        return math.atan2(self.back(step) - self.back(0.0), step)

    def part(self, a: float) -> float:
        """What a string over a part of that length from the middle of the board shows in its middle."""
        half = self.length / 2.0
        ends = (self.back(half - a / 2) + self.back(half + a / 2)) / 2.0
        return self.back(half) - ends

    def planed(self, off: float, *, ends: bool) -> list[float]:
        """The edge at 21 places after `off` was taken from its ends (or middle), falling evenly curved to nothing."""
        places = [n / 20 for n in range(21)]
        shape = [(2 * p - 1) ** 2 if ends else 1 - (2 * p - 1) ** 2 for p in places]
        return [self.back(p * self.length) + off * s for p, s in zip(places, shape, strict=True)]
