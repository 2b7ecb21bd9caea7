"""A caliper as two jaws in the plane, and a tape with a sliding hook; inches. Nothing of the product is used here.

The fixed jaw's face is x = 0, the sliding one leans by `worn` (its tip further in or out than its root), both reach
from the beam at y = 0 to y = -reach. What is shown is the place of the slide where it is stopped, less its zero.
"""

from __future__ import annotations

from dataclasses import dataclass

from tests.worlds.polygon import Polygon, chord, turn


@dataclass
class Jaws:
    zero: float = 0.0
    stretch: float = 1.0
    worn: float = 0.0
    reach: float = 1.5

    def face(self, depth: float) -> float:
        """How far the sliding jaw's face stands out beyond its root, at a depth below the beam."""
        return self.worn * depth / self.reach

    def closed(self) -> float:
        """The slide stops where the faces first touch, at root or tip."""
        return self.zero + max(self.face(0.0), self.face(self.reach))

    def over(self, size: float, depth: float) -> float:
        """A piece held at one depth only."""
        return self.zero + self.stretch * size + self.face(depth)


def tilted(width: float, rad: float) -> float:
    """What lies between the points of two jaws held askew across a long strip."""
    strip: Polygon = [(0.0, -9.0), (width, -9.0), (width, 9.0), (0.0, 9.0)]
    left, right = chord(turn(strip, rad), 0.0)
    return right - left


@dataclass
class Tape:
    """Marks lie at their number; the hook's inner face stands at `pulled` when pulled, slid back by `slides` pushed.

    A good hook has its inner face at 0 when pulled, and its outer face at 0 when pushed: slides = thick.
    """

    pulled: float = 0.0
    slides: float = 0.04
    thick: float = 0.04

    def hooked(self, stick: float) -> float:
        return self.pulled + stick

    def pushed(self, stick: float) -> float:
        """Hook and stick's end both against one wall: the wall is at the hook's outer face."""
        wall = self.pulled + self.slides - self.thick
        return wall + stick

    @staticmethod
    def from_line(stick: float) -> float:
        return stick
