"""A block in section, stood on its foot against a leaning face; any one unit. Nothing of the product is used here.

x grows from the face toward the work, z up from the platform.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tests.worlds.polygon import Polygon, chord, direction, shift, turn


@dataclass
class Face:
    """`lean`: how far the face's top leans away from the work, rad."""

    lean: float

    def x(self, z: float) -> float:
        return -math.tan(self.lean) * z


@dataclass
class Block:
    """A four-sided section; sides 0-1 foot, 1-2 work face, 2-3 top, 3-0 fence face."""

    corners: Polygon

    def stood(self) -> Polygon:
        """Foot on the platform, fence face to the left."""
        a, b = self.corners[0], self.corners[1]
        level = turn(self.corners, -direction(a, b))
        return shift(level, (-level[0][0], -level[0][1]))

    def turned_about(self) -> Block:
        """Like a top: the same foot down, the other face to the fence."""
        a, b, c, d = ((-x, z) for x, z in self.corners)
        return Block([b, a, d, c])

    def rolled(self) -> Block:
        """Upside down onto its other face: what was the top is the foot."""
        return Block([*self.corners[2:], *self.corners[:2]])

    def thickness(self, z: float) -> float:
        left, right = chord(self.stood(), z)
        return right - left

    def gaps(self, face: Face, low: float, high: float) -> tuple[float, float]:
        """(gap at the upper height, gap at the lower) when it was slid up until it touches one of them."""
        section = self.stood()
        off = [chord(section, z)[0] - face.x(z) for z in (low, high)]
        return off[1] - min(off), off[0] - min(off)
