"""Pieces with given lengths and end angles, put together as flat shapes, and what is then measured. mm and rad.

Nothing of the product is used here. Everything is laid, pushed and turned as points in a plane.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from tests.worlds.polygon import Point, Polygon, shift, turn


def board(length: float, width: float, lean_one: float, lean_two: float) -> Polygon:
    """A board with its reference edge along x from the origin; its ends lean outward from that edge to the other."""
    return [
        (0.0, 0.0),
        (length, 0.0),
        (length + width * math.tan(lean_two), width),
        (-width * math.tan(lean_one), width),
    ]


def crossing(p: Point, along: Point, q: Point, other: Point) -> Point:
    """Where the line through p along `along` meets the line through q along `other`."""
    det = along[0] * -other[1] + other[0] * along[1]
    t = ((q[0] - p[0]) * -other[1] + other[0] * (q[1] - p[1])) / det
    return p[0] + t * along[0], p[1] + t * along[1]


def room_between(opening: float, piece: Polygon) -> float:
    """Pushed against the one face at x = 0 without turning: what is left to the other face at x = opening."""
    pushed = shift(piece, (-min(x for x, _ in piece), 0.0))
    return opening - max(x for x, _ in pushed)


def seen_gaps(opening: float, piece: Polygon) -> tuple[float, float]:
    """The gap that is seen along the reference edge and along the other edge."""
    return opening - (piece[1][0] - piece[0][0]), opening - (piece[2][0] - piece[3][0])


def drawer_room(
    opening: tuple[float, float], box: tuple[float, float], slide: float, deep: float, racked: float
) -> float:
    """The least room of a racked, tapered box between two slides in an opening that narrows or widens to the back.

    The wall at the one side is straight; the other one stands at `opening` at face and back. The box is pushed against
    the slide at the first wall, and the room is what is left to the slide at the other.
    """
    aside = deep * math.sin(racked)
    first = [(slide, 0.0), (slide, deep)]
    other = [(opening[0] - slide, 0.0), (opening[1] - slide, deep)]
    sides = [(0.0, 0.0), (aside, deep)], [(box[0], 0.0), (box[1] + aside, deep)]
    push = max(wall[0] - corner[0] for wall, corner in zip(first, sides[0], strict=True))
    return min(wall[0] - corner[0] - push for wall, corner in zip(other, sides[1], strict=True))


def four_sides(bottom: float, top: float, near: float, away: float, angle: float) -> tuple[Point, Point, Point, Point]:
    """Corners A, B, C, D of a frame with AB, DC, AD, BC and that inner angle at A."""
    a, b = (0.0, 0.0), (bottom, 0.0)
    d = (near * math.cos(angle), near * math.sin(angle))
    across = math.dist(b, d)
    along = (away**2 - top**2 + across**2) / (2 * across)
    out = math.sqrt(away**2 - along**2)
    ux, uy = (d[0] - b[0]) / across, (d[1] - b[1]) / across
    return a, b, (b[0] + along * ux + out * uy, b[1] + along * uy - out * ux), d


def corner_angles(corners: Sequence[Point]) -> list[float]:
    """The inner angle at every corner."""
    found = []
    for i, p in enumerate(corners):
        before, after = corners[i - 1], corners[(i + 1) % len(corners)]
        a = math.atan2(after[1] - p[1], after[0] - p[0])
        b = math.atan2(before[1] - p[1], before[0] - p[0])
        found.append((b - a) % (2 * math.pi))
    return found


def settled(bottom: float, top: float, near: float, away: float, wants: Sequence[float]) -> float:
    """Difference of the diagonals where joints of equal stiffness come to rest: least sum of squared strains.

    wants: how far from square each joint was cut, at A, B, C, D. Found by a search over the angle at A.
    """

    def strain(angle: float) -> float:
        corners = four_sides(bottom, top, near, away, angle)
        return sum((a - math.pi / 2 - e) ** 2 for a, e in zip(corner_angles(corners), wants, strict=True))

    return _difference(bottom, top, near, away, _least(strain))


def racked(bottom: float, top: float, near: float, away: float, racking: float) -> float:
    """Difference of the diagonals where (dA - dB + dC - dD) / 4 is `racking`."""

    def off(angle: float) -> float:
        a, b, c, d = corner_angles(four_sides(bottom, top, near, away, angle))
        return ((a - b + c - d) / 4 - racking) ** 2

    return _difference(bottom, top, near, away, _least(off))


def _difference(bottom: float, top: float, near: float, away: float, angle: float) -> float:
    a, b, c, d = four_sides(bottom, top, near, away, angle)
    return math.dist(a, c) - math.dist(b, d)


def _least(of_angle: object) -> float:
    """The angle near 90° where a function is least, by golden sections, then by its own parabola."""
    assert callable(of_angle)
    low, high = math.pi / 2 - 0.05, math.pi / 2 + 0.05
    ratio = (math.sqrt(5) - 1) / 2
    while high - low > 1e-5:
        one, two = high - ratio * (high - low), low + ratio * (high - low)
        low, high = (low, two) if of_angle(one) < of_angle(two) else (one, high)
    middle, step = (low + high) / 2, 1e-3
    before, here, after = of_angle(middle - step), of_angle(middle), of_angle(middle + step)
    return float(middle + 0.5 * step * (before - after) / (before - 2 * here + after))


def mitred(
    lengths: Sequence[float], begins: Sequence[float], ends: Sequence[float], width: float
) -> tuple[float, float]:
    """The last joint of a mitred frame at its outer and its inner corner: how far open, below 0 overlapping.

    Every side is a shape with its outer edge along x, its ends cut at the mitres from square. The next one is laid with
    its first end's face on the last face of the one before, outer corner on outer corner.
    """
    shapes = [
        [(0.0, 0.0), (n, 0.0), (n - width * math.tan(b), width), (width * math.tan(a), width)]
        for n, a, b in zip(lengths, begins, ends, strict=True)
    ]
    laid = [shapes[0]]
    for shape in shapes[1:]:
        outer, inner = laid[-1][1], laid[-1][2]
        face = math.atan2(inner[1] - outer[1], inner[0] - outer[0])
        own = math.atan2(shape[3][1] - shape[0][1], shape[3][0] - shape[0][0])
        laid.append(shift(turn(shape, face - own), outer))
    first, last = laid[0], laid[-1]
    ux, uy = first[3][0] - first[0][0], first[3][1] - first[0][1]
    size = math.hypot(ux, uy)
    open_at = [((x - first[0][0]) * -uy + (y - first[0][1]) * ux) / size for x, y in (last[1], last[2])]
    return open_at[0], open_at[1]


def frame(across: float, up: float, lean: float) -> Polygon:
    """A frame about its middle, its uprights leaning by `lean`, top and bottom level."""
    x, y = up / 2 * math.sin(lean), up / 2 * math.cos(lean)
    return [(-across / 2 - x, -y), (across / 2 - x, -y), (across / 2 + x, y), (-across / 2 + x, y)]


def overhangs(over: Polygon, under: Polygon, laid: Point) -> tuple[dict[str, float], tuple[float, float]]:
    """How far `over`, laid so far aside and up, stands out: sideways at each corner of `under`, above and below."""
    top = shift(over, laid)
    sideways = {}
    for name, corner, (low, high), sign in (
        ("bottom left", under[0], (top[0], top[3]), -1),
        ("bottom right", under[1], (top[1], top[2]), 1),
        ("top right", under[2], (top[1], top[2]), 1),
        ("top left", under[3], (top[0], top[3]), -1),
    ):
        edge = crossing(low, (high[0] - low[0], high[1] - low[1]), corner, (1.0, 0.0))
        sideways[name] = sign * (edge[0] - corner[0])
    return sideways, (top[2][1] - under[2][1], under[0][1] - top[0][1])


def stacked(pieces: Sequence[tuple[float, float]], deep: float) -> tuple[Point, Point]:
    """Where the outermost edge begins and ends, with each piece (width, taper) laid tight on the one before it."""
    at, heading = (0.0, 0.0), 0.0
    begins = ends = at
    for width, taper in pieces:
        shape = [(0.0, 0.0), (deep, 0.0), (deep, width + taper * deep), (0.0, width)]
        laid = shift(turn(shape, heading), at)
        ends, begins = laid[2], laid[3]
        at, heading = begins, math.atan2(ends[1] - begins[1], ends[0] - begins[0])
    return begins, ends


def door_gaps(
    opening: tuple[float, float], high: float, lean: float, door: float, hinge: float, leaves: int
) -> tuple[float, float]:
    """Gap beside the free edge at bottom and top of doors that hang level in an opening whose uprights lean.

    The doors are rectangles; a door's hinge edge is `hinge` from its upright at half its height.
    """
    half = high / 2
    left = [(-half * math.sin(lean), -half), (half * math.sin(lean), half)]
    right = [(left[0][0] + opening[0], -half), (left[1][0] + opening[1], half)]
    free = (left[0][0] + left[1][0]) / 2 + hinge + door
    if leaves == 1:
        return right[0][0] - free, right[1][0] - free
    other = (right[0][0] + right[1][0]) / 2 - hinge - door
    return other - free, other - free
