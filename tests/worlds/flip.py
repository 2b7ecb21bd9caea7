"""A board that the simulated sled cuts in two, its offcut rolled over, both pieces pushed together at a straightedge.

Inches. Nothing of the product is used here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tests.worlds.polygon import Point, Polygon
from tests.worlds.sled import Sled


@dataclass
class Pair:
    """What is read: the board's width near both ends and how far these are apart, and the gap with its place."""

    keeper_width: float
    offcut_width: float
    apart: float
    gap: float
    where: str


def cut_in_two(
    sled: Sled, width: float = 5.5, length: float = 20.0, taper: float = 0.0, seat: float = 0.0, inset: float = 1.0
) -> Pair:
    """`taper`: how much wider the board is at its second end, rad; either end may come to lie on the keeper's side."""
    board: Polygon = [(0.0, 0.0), (length, 0.0), (length, width + taper * length), (0.0, width)]
    keeper, offcut, _ = sled.cut(board, (board[0], board[1]), length / 2, seat)
    k, o = _corners(keeper, 0.0, sled.f), _corners(offcut, -sled.k * sled.kerf, sled.f)
    gap_away, gap_at = _pushed_together(_end(k[0], k[1], k[2]), _end(o[1], o[0], o[3]))
    widths = _width(k, inset), _width(o, inset)
    apart = length - sled.kerf - 2.0 * inset
    if gap_away >= gap_at:
        return Pair(*widths, apart, gap_away, "away")
    return Pair(*widths, apart, gap_at, "straightedge")


def _corners(piece: Polygon, cut_x: float, f: float) -> list[Point]:
    """[fence edge at the cut, other edge at the cut, fence edge at the end, other edge at the end]."""
    fresh = sorted((p for p in piece if abs(p[0] - cut_x) < 1e-9), key=lambda p: -f * p[1])
    rest = sorted((p for p in piece if abs(p[0] - cut_x) >= 1e-9), key=lambda p: -f * p[1])
    assert len(fresh) == len(rest) == 2
    return [*fresh, *rest]


def _end(corner: Point, across: Point, along: Point) -> Point:
    """The far corner of a sawn end, with the near one at 0: how far it stands out, and how high above the edge."""
    run = math.dist(corner, along)
    ux, uy = (corner[0] - along[0]) / run, (corner[1] - along[1]) / run
    dx, dy = across[0] - corner[0], across[1] - corner[1]
    return dx * ux + dy * uy, abs(dy * ux - dx * uy)


def _pushed_together(one: Point, other: Point) -> tuple[float, float]:
    """Gaps (away from the straightedge, at it) when two ends, leaning out by so much at their top, have met."""
    top = min(one[1], other[1])
    out = (one[0] / one[1] + other[0] / other[1]) * top
    apart = max(0.0, out)
    return apart - out, apart


def _width(corners: list[Point], inset: float) -> float:
    """Width across the fence edge, `inset` from the piece's end."""
    cut, over, end, over_end = corners
    run = math.dist(cut, end)
    ux, uy = (cut[0] - end[0]) / run, (cut[1] - end[1]) / run
    near, far = (abs((p[1] - end[1]) * ux - (p[0] - end[0]) * uy) for p in (over_end, over))
    return near + (far - near) * inset / run
