"""A blade on its arbor as planes and points in space; inches. Nothing of the product is used here.

x to the right, y away from the operator, z up; the slot runs along y, the arbor's middle is the origin. Points of the
blade are turned with it, walls and probes stand still: a reading is where a line from the probe meets the plate.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]


def about(axis: int, rad: float) -> NDArray[np.float64]:
    """Rotation about x (0), y (1) or z (2)."""
    c, s = math.cos(rad), math.sin(rad)
    one, two = [(1, 2), (2, 0), (0, 1)][axis]
    matrix = np.eye(3)
    matrix[one, one] = matrix[two, two] = c
    matrix[one, two], matrix[two, one] = -s, s
    return matrix


@dataclass
class Arbor:
    """yaw: the whole arbor turned counter-clockwise seen from above. The plate is not square to it by `wobble` rad,
    worst at `high` on the blade; the flange by `flange` rad, worst at `flange_high` on the arbor. `mounted`: by how
    much the blade is turned on the arbor. slot_x: where the slot's wall is, left of the blade below nought.
    """

    yaw: float = 0.0
    wobble: float = 0.0
    high: float = 0.0
    flange: float = 0.0
    flange_high: float = 0.0
    mounted: float = 0.0
    slot_x: float = -5.0

    def _seated(self) -> NDArray[np.float64]:
        """From the blade's own frame to the arbor's: the blade lies on the tilted flange, turned by `mounted`."""
        plate = about(0, self.high) @ about(2, self.wobble) @ about(0, -self.high)
        seat = about(0, self.flange_high) @ about(2, self.flange) @ about(0, -self.flange_high)
        turned: NDArray[np.float64] = seat @ about(0, self.mounted) @ plate
        return turned

    def spot(self, radius: float, angle: float, turn: float) -> Vector:
        """Where a spot of the plate is when the arbor is turned."""
        on_blade = np.array([0.0, radius * math.cos(angle), radius * math.sin(angle)])
        place: Vector = about(2, self.yaw) @ about(0, turn) @ self._seated() @ on_blade
        return place

    def brought(self, radius: float, angle: float, above: float, *, far: bool) -> Vector:
        """The spot, turned by hand until it stands `above` the arbor at the far or the operator's end."""
        end = math.asin(above / radius)
        target = end if far else math.pi - end
        return self.spot(radius, angle, target - angle - self.mounted)

    def to_slot(self, place: Vector) -> float:
        """Distance from the slot's wall to a place, along x."""
        return abs(float(place[0]) - self.slot_x)

    def leans_away(self) -> float:
        """How much farther from the slot the far end is than the operator's end, per inch, of a blade that is flat."""
        flat = Arbor(yaw=self.yaw, slot_x=self.slot_x)
        far, near = (flat.spot(1.0, 0.0, turn) for turn in (0.0, math.pi))
        return (flat.to_slot(far) - flat.to_slot(near)) / float(far[1] - near[1])

    def turn_to_slot(self, closer: float, span: float) -> None:
        """Set the trunnions so that the far end comes nearer to the slot by `closer` against the near end."""
        wanted, rad = self.leans_away() - closer / span, math.atan2(closer, span)
        ways = (self.yaw + rad, self.yaw - rad)
        self.yaw = min(ways, key=lambda yaw: abs(Arbor(yaw=yaw, slot_x=self.slot_x).leans_away() - wanted))

    def dial(self, radius: float, turn: float, *, flange_only: bool = False) -> float:
        """A dial along the arbor at the far side of the axis: where it meets plate or flange at that turn."""
        return float(self._dials(radius, np.array([turn]), flange_only)[0])

    def _dials(self, radius: float, turns: Vector, flange_only: bool) -> Vector:
        if flange_only:
            seat = about(0, self.flange_high) @ about(2, self.flange) @ about(0, -self.flange_high)
        else:
            seat = self._seated()
        x, y, z = seat @ np.array([1.0, 0.0, 0.0])  # the normal, turned about x below
        found: Vector = -(np.cos(turns) * y - np.sin(turns) * z) * radius / x
        return found

    def round(self, radius: float, *, flange_only: bool = False) -> tuple[float, float, float]:
        """One turn by hand: (highest, lowest, the turn at which it was highest)."""
        turns = np.linspace(0.0, 2.0 * math.pi, 721)
        seen = self._dials(radius, turns, flange_only)
        return float(seen.max()), float(seen.min()), float(turns[int(np.argmax(seen))])
