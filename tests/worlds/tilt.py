"""A blade that leans, and what it cuts seen from the operator's side; inches. Nothing of the product is used here.

x to the right, z up; the blade meets the table at x = 0. Blocks are polygons, cut by the leaning plane.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tests.worlds.polygon import Point, Polygon, clip, shift, turn


@dataclass
class Leaning:
    """`lean`: the top of the blade toward the keeper, rad, which lies left or right of the blade."""

    lean: float
    keeper: str = "left"
    kerf: float = 0.125

    @property
    def k(self) -> float:
        return -1.0 if self.keeper == "left" else 1.0

    def cut(self, block: Polygon) -> tuple[Polygon, Polygon]:
        """Keeper and offcut of a block that lies on the table across the blade."""
        normal = (self.k * math.cos(self.lean), -math.sin(self.lean))  # from the blade toward the keeper
        keeper = clip(block, (-normal[0], -normal[1]), 0.0)
        offcut = clip(block, normal, -self.kerf)
        return keeper, offcut

    def gap(self, block: Polygon) -> tuple[float, str]:
        """The offcut rolled upside down about x, laid down, pushed to the keeper: the gap and where it is."""
        keeper, offcut = self.cut(block)
        rolled = _laid([(x, -z) for x, z in offcut])
        return _between(_end(keeper, -self.k), _end(rolled, self.k), self.k)

    def tilt(self, rad: float, *, away: bool) -> None:
        self.lean += -rad if away else rad


def block(height: float, taper: float = 0.0, half: float = 6.0) -> Polygon:
    """A block across the blade; its upper face rises to the right by `taper` an inch."""
    return [(-half, 0.0), (half, 0.0), (half, height + half * taper), (-half, height - half * taper)]


def end_for_end(piece: Polygon) -> Polygon:
    """The block turned round about its height before the cut."""
    return [(-x, z) for x, z in piece][::-1]


def _laid(piece: Polygon) -> Polygon:
    """Turned and lowered until its lower long face lies on the table. Corners come clockwise after a mirroring."""
    low = sorted(piece, key=lambda p: p[1])[:2]
    one, two = sorted(low)
    flat = turn(piece, -math.atan2(two[1] - one[1], two[0] - one[0]))
    flat = shift(flat, (0.0, -min(z for _, z in flat)))
    return flat if _area(flat) > 0.0 else flat[::-1]


def _area(piece: Polygon) -> float:
    return sum(p[0] * q[1] - q[0] * p[1] for p, q in zip(piece, piece[1:] + piece[:1], strict=True))


def _end(piece: Polygon, side: float) -> tuple[Point, Point]:
    """(lower, upper) corner of the end face that looks to that side."""
    ends = sorted(piece, key=lambda p: side * p[0])[-2:]
    lower, upper = sorted(ends, key=lambda p: p[1])
    return lower, upper


def _between(keeper: tuple[Point, Point], rolled: tuple[Point, Point], k: float) -> tuple[float, str]:
    """Push the rolled face against the keeper's until they touch; what is open at the other edge."""
    height = min(keeper[1][1], rolled[1][1])

    def at(face: tuple[Point, Point], z: float) -> float:
        (x0, z0), (x1, z1) = face
        return k * (x0 + (z - z0) / (z1 - z0) * (x1 - x0))

    opens = [at(keeper, z) - at(rolled, z) for z in (0.0, height)]
    wide = abs(opens[1] - opens[0])
    return wide, "none" if wide == 0.0 else "top" if opens[1] > opens[0] else "bottom"


# --- four bevelled strips in a ring


@dataclass
class Ring:
    """Four equal strips, bevelled on both edges to `bevel` rad from square, closed to a ring by tape.

    wide: outer width; thick: thickness; skew: how far the ring is pushed out of square, rad.
    """

    bevel: float
    wide: float = 4.0
    thick: float = 0.75
    skew: float = 0.0

    def gaps(self) -> tuple[list[float], str]:
        """The gap at each joint where it is open, and whether that is outside or inside.

        Bevels of more than 45 degrees touch at the outer corners and leave a gap inside, those of less touch inside.
        At the touching corners the ring hinges to a rhombus. An end face is a line from its touching corner, at a
        right angle less the bevel to the outer face and at a right angle more the bevel to the inner one; the gap is
        how far the other ends of the two faces are apart.
        """
        inside = 2.0 * self.bevel > math.pi / 2.0
        slant = self.thick / math.cos(self.bevel)
        right = math.pi / 2.0
        found = []
        for corner in (right + self.skew, right - self.skew) * 2:
            if inside:
                one, two = right - self.bevel, corner - (right - self.bevel)
            else:
                one, two = -(right + self.bevel), corner + right + self.bevel
            ends = [(slant * math.cos(a), slant * math.sin(a)) for a in (one, two)]
            found.append(math.dist(*ends))
        return found, "inside" if inside else "outside"
