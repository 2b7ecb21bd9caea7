"""A sled seen from above that really cuts boards: x to the right, y away from the operator, inches.

The blade's plane on the keeper's side is x = 0 and the travel runs along y. The fence is a line that may lean; boards
are laid against it edge to line, slid along it and cut by half-planes. Nothing of the product is used here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from tests.worlds.polygon import Point, Polygon, chord, clip, direction, shift, turn

LAYOUTS = [(fence, keeper) for fence in ("far", "operator") for keeper in ("left", "right")]
CROOKED: Polygon = [(0.0, 0.0), (14.3, 0.11), (14.1, 12.2), (0.2, 12.05)]
"""A panel that starts well out of square, corners counter-clockwise."""


@dataclass
class Strip:
    """The strip of the last cut, read at two spots and in the middle; and how the board was turned for each cut."""

    fence_end: float
    middle: float
    free_end: float
    length: float
    turns: list[float] = field(default_factory=list)


@dataclass
class Sled:
    """`lean`: how far the fence's line is turned counter-clockwise from square to the travel, rad."""

    fence: str
    keeper: str
    lean: float = 0.0
    pivot: str = "near-blade"
    screw: str = "keeper"
    radius: float = 18.0
    kerf: float = 0.1

    @property
    def k(self) -> float:
        return -1.0 if self.keeper == "left" else 1.0

    @property
    def f(self) -> float:
        return 1.0 if self.fence == "far" else -1.0

    @property
    def tight(self) -> float:
        """90 degrees less the inside corner of the keeper between the fence and the cut."""
        along = (self.k * math.cos(self.lean), self.k * math.sin(self.lean))  # from the blade to the keeper's side
        into_work = (0.0, -self.f)
        return math.pi / 2 - math.acos(along[0] * into_work[0] + along[1] * into_work[1])

    def make_tight(self, rad: float) -> None:
        """Lean the fence, by trying both ways, so that the corner is tight by `rad`."""
        self.lean = min((rad, -rad), key=lambda lean: abs(Sled(self.fence, self.keeper, lean).tight - rad))

    # --- cutting

    def cut(
        self, board: Polygon, edge: tuple[Point, Point], trim: float, seat: float
    ) -> tuple[Polygon, Polygon, float]:
        """Lay `edge` on the fence (wrongly by `seat` rad) and cut `trim` off: keeper, offcut, the turn it took."""
        line = self.lean + (math.pi if self.fence == "far" else 0.0)  # so that the board lies on the work's side
        by = line + seat - direction(*edge)
        laid, at = turn(board, by), turn([edge[0]], by)[0]
        laid = shift(laid, (-at[0], 6.0 * self.f - at[1]))
        beyond = max(-self.k * x for x, _ in laid)
        slide = (trim - beyond) / (-self.k * math.cos(self.lean))
        laid = shift(laid, (slide * math.cos(self.lean), slide * math.sin(self.lean)))
        keeper = clip(laid, (-self.k, 0.0), 0.0)
        offcut = clip(laid, (self.k, 0.0), -self.kerf)
        return keeper, offcut, math.remainder(by, 2 * math.pi)

    def five_cuts(
        self, board: Polygon = CROOKED, seats: Sequence[float] = (0.0,) * 5, strip: float = 1.0, margin: float = 0.5
    ) -> Strip:
        """Trim four sides, each fresh edge going to the fence, then free a strip along the first."""
        edge = (board[2], board[3])
        turns = []
        offcut: Polygon = []
        for seat, trim in zip(seats, (0.5, 0.5, 0.5, 0.5, strip), strict=True):
            board, offcut, by = self.cut(board, edge, trim, seat)
            edge = _fresh(board)
            turns.append(by)
        ys = [y for x, y in offcut]
        near, far = (
            (max(ys) - margin, min(ys) + margin) if self.fence == "far" else (min(ys) + margin, max(ys) - margin)
        )
        at_fence, middle, free = (
            right - left for left, right in (chord(offcut, y) for y in (near, (near + far) / 2, far))
        )
        return Strip(at_fence, middle, free, abs(near - far), turns)

    # --- moving

    def push_screw(self, amount: float, way: str) -> None:
        """Move the fence's point at the screw along the travel; it turns about its pivot."""
        reach = self.radius * (self.k if self.screw == "keeper" else -self.k)
        if self.pivot == "far-from-blade":
            reach = -self.k * self.radius  # from the keeper's end back toward the blade, or beyond it
        step = amount if way == "away from the operator" else -amount
        self.lean += math.atan2(step, abs(reach)) * math.copysign(1.0, reach)

    def turn_fence(self, rad: float, sense: str) -> None:
        self.lean += rad if sense == "counter-clockwise" else -rad


def _fresh(board: Polygon) -> tuple[Point, Point]:
    """The edge that the last cut made: the one that lies on the blade's plane."""
    for i, p in enumerate(board):
        q = board[(i + 1) % len(board)]
        if abs(p[0]) < 1e-9 and abs(q[0]) < 1e-9 and p != q:
            return p, q
    raise AssertionError("the cut left no edge")
