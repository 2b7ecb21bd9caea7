"""A frame of four rigid sides hinged at its corners, closed as a ring. Inches; nothing of the product is used here."""

from __future__ import annotations

import math
from dataclasses import dataclass

from tests.worlds.polygon import Point


@dataclass
class Box:
    """Sides AB, BC, CD, DA, and the inner angle at A in radians."""

    ab: float
    bc: float
    cd: float
    da: float
    angle: float = math.pi / 2

    def corners(self) -> tuple[Point, Point, Point, Point]:
        """A at the origin, B along x; C is where the circles about B and D meet on the far side of BD."""
        a, b = (0.0, 0.0), (self.ab, 0.0)
        d = (self.da * math.cos(self.angle), self.da * math.sin(self.angle))
        across = math.dist(b, d)
        along = (self.bc**2 - self.cd**2 + across**2) / (2 * across)
        out = math.sqrt(self.bc**2 - along**2)
        ux, uy = (d[0] - b[0]) / across, (d[1] - b[1]) / across
        return a, b, (b[0] + along * ux + out * uy, b[1] + along * uy - out * ux), d

    def diagonals(self) -> tuple[float, float]:
        a, b, c, d = self.corners()
        return math.dist(a, c), math.dist(b, d)

    def tight(self) -> float:
        return math.pi / 2 - self.angle

    def squeeze(self, which: int, by: float) -> None:
        """Turn the hinges until that diagonal is shorter by so much."""
        wanted = self.diagonals()[which] - by
        low, high = self.angle - 0.2, self.angle + 0.2
        for _ in range(80):
            middle = (low + high) / 2
            length = Box(self.ab, self.bc, self.cd, self.da, middle).diagonals()[which]
            # A wider angle at A shortens AC and lengthens BD.
            if (length > wanted) == (which == 0):
                low = middle
            else:
                high = middle
        self.angle = (low + high) / 2
