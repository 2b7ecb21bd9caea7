"""Geometry of a fence that pivots beside the blade: where the blade crosses its face, and metal that comes in its way.

Along the fence is counted from the pivot toward the blade, in front of it toward the work. An angle is above 0 where
the fence's end at the blade swings away from the work, below 0 where it swings into it. Lengths in mm, angles in rad.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from trued.equipment.fixture import Fixture

CLEARANCE_MM = 3 / 16 * 25.4  # to the middle of the blade: 1/8 in, and half a kerf; common practice
MOST_ANGLE = math.radians(45.0)


def crossing_mm(beside_mm: float, face_mm: float, angle: float) -> float:
    """Where the plane of the blade crosses the face of the fence, along it from the pivot.

    beside_mm: from the pivot across to the blade's plane. face_mm: how far the face stands in front of the pivot.
    """
    return beside_mm / math.cos(angle) - face_mm * math.tan(angle)


@dataclass(frozen=True, slots=True)
class Metal:
    """The end of all metal that must never be cut: how far along the fence, in front of the pivot, and behind it."""

    beside_mm: float
    end_mm: float
    front_mm: float
    back_mm: float

    def past_mm(self, angle: float) -> float:
        """How far its worst corner stands past the plane of the blade; below 0 it keeps that far away."""
        depth = self.front_mm if angle > 0.0 else self.back_mm
        return self.end_mm * math.cos(angle) + depth * math.sin(abs(angle)) - self.beside_mm

    def too_near(self, angle: float) -> bool:
        """Whether it comes nearer to the blade than it should."""
        return self.past_mm(angle) > -CLEARANCE_MM

    def worst(self, *, away: bool, most: float = MOST_ANGLE) -> tuple[float, float]:
        """The angle (0 or more) at which it comes nearest as the fence swings that way up to `most`, and how near.

        end cos θ + depth sin θ is greatest at tan θ = depth / end: not at a detent, but on the way to it.
        """
        depth = self.front_mm if away else self.back_mm
        angle = min(most, math.atan2(depth, self.end_mm))
        return angle, self.past_mm(angle if away else -angle)

    def from_angle(self, *, away: bool) -> float | None:
        """The smallest angle (0 or more) at which it is too near as the fence swings that way; None up to 45 degrees.

        The corner goes round on a circle: end cos θ + depth sin θ = r cos (θ - φ).
        """
        if self.too_near(0.0):
            return 0.0
        depth = self.front_mm if away else self.back_mm
        r, allowed = math.hypot(self.end_mm, depth), self.beside_mm - CLEARANCE_MM
        if r <= allowed:
            return None
        angle = math.atan2(depth, self.end_mm) - math.acos(allowed / r)
        return angle if 0.0 < angle < MOST_ANGLE else None


def metal_in_the_way(sled: Fixture) -> bool:
    """Whether metal of its fence comes too near to the blade when square: how far it reaches along the fence decides.

    What is not known is not judged here.
    """
    beside, end = sled.number("pivot_beside"), sled.number("metal_end")
    return beside is not None and end is not None and Metal(beside, end, 0.0, 0.0).too_near(0.0)
