"""A rip fence, a blade and a slot from above, as points and lines; inches. Nothing of the product is used here.

x away from the blade toward the fence, y away from the operator. The work moves along the slot.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tests.worlds.polygon import Point


def at_height(start: Point, end: Point, y: float) -> float:
    """x of the line through two points at a height y."""
    return start[0] + (y - start[1]) / (end[1] - start[1]) * (end[0] - start[0])


@dataclass
class Fence:
    """The fence's face turns about its operator's end by `open_rad` (its far end away from the blade); the blade about
    its middle by `lean_rad` (its far end toward the fence). `hollow`: how far the face stands back in its middle.
    """

    open_rad: float = 0.0
    lean_rad: float = 0.0
    hollow: float = 0.0
    at: float = 8.0
    long: float = 20.0
    blade: float = 7.0
    slot_x: float = -5.0
    scale_origin: float = 0.0
    scale_stretch: float = 1.0

    def face(self, share: float) -> Point:
        """A place of the face, from its operator's end (0) to its far end (1)."""
        along, back = share * self.long, 4.0 * self.hollow * share * (1.0 - share)
        c, s = math.cos(self.open_rad), math.sin(self.open_rad)
        return self.at + along * s + back * c, -self.long / 2.0 + along * c - back * s

    def plate(self, share: float) -> Point:
        """A place of the blade, from its operator's end (0) to its far end (1)."""
        along = (share - 0.5) * self.blade
        return along * math.sin(self.lean_rad), along * math.cos(self.lean_rad)

    def from_slot(self, place: Point) -> float:
        """Distance from the slot's wall, as a bar in the slot reads it."""
        return abs(place[0] - self.slot_x)

    def closes(self) -> float:
        """By how much work between fence and blade has less room at the blade's far end than at its operator's end."""
        near, far = self.plate(0.0), self.plate(1.0)
        ends = self.face(0.0), self.face(1.0)
        rooms = [at_height(*ends, y) - x for x, y in (near, far)]
        return rooms[0] - rooms[1]

    def move_far_end(self, out: float) -> None:
        """Bring the far end away from the blade by `out` (below 0: toward it)."""
        self.open_rad += out / self.long

    def ripped(self, setting: float) -> float:
        """Width of a strip with the fence set to a mark that is printed at origin + mark x stretch."""
        return self.scale_origin + setting * self.scale_stretch
