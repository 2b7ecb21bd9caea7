"""How straight a line of heights is, and how flat a field of them: by least squares and by minimum zone.

Minimum zone: the smallest distance, measured along the heights, between two parallel lines (planes) that hold all
points. ISO 230-1 names both references. Measured square to the planes it is smaller by the cosine of their slope, which
for a surface that is level to 1 in 100 is 5 parts in 100,000.

That distance is a convex function of the slopes, made of flat pieces that meet where two points stand equally high. So
its least value lies where two such ties cross: a line through a side of the hull, a plane through three points, or one
that is parallel to two edges (a saddle touches it so). All of them are tried, and nothing else need be.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import combinations, pairwise

from trued.measure.fitting.line import fit_line

Place = tuple[float, float, float]
"""Where a height was found: x, y and the height, all in one unit."""


def line_range(xs: Sequence[float], heights: Sequence[float]) -> float:
    """Straightness by least squares: the range of the residuals about the fitted line."""
    line = fit_line(xs, heights)
    return _range(z - line.slope * x for x, z in zip(xs, heights, strict=True))


def line_zone(xs: Sequence[float], heights: Sequence[float]) -> float:
    """Straightness by minimum zone; ValueError unless the points stand at two different x or more."""
    points = sorted(zip(xs, heights, strict=True))
    if not points or points[0][0] == points[-1][0]:
        raise ValueError("straightness needs points at two different places or more")
    sides = [*_hull(points), *_hull(points[::-1])]
    slopes = [(q[1] - p[1]) / (q[0] - p[0]) for p, q in sides if p[0] != q[0]]
    return min(_range(z - slope * x for x, z in points) for slope in slopes)


def _hull(points: Sequence[tuple[float, float]]) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The sides of the convex hull that a walk along sorted points leaves on its right hand."""
    chain: list[tuple[float, float]] = []
    for p in points:
        while len(chain) > 1 and _left_turn(chain[-2], chain[-1], p) <= 0.0:
            chain.pop()
        chain.append(p)
    return list(pairwise(chain))


def _left_turn(o: tuple[float, float], p: tuple[float, float], q: tuple[float, float]) -> float:
    return (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0])


def plane_slopes(places: Sequence[Place]) -> tuple[float, float]:
    """Slopes along x and y of the least-squares plane; ValueError when all points stand in one line."""
    n = len(places)
    mx, my, mz = (math.fsum(p[i] for p in places) / max(1, n) for i in range(3))
    sxx, syy, sxy, sxz, syz = (
        math.fsum((p[i] - mean_i) * (p[j] - mean_j) for p in places)
        for i, mean_i, j, mean_j in ((0, mx, 0, mx), (1, my, 1, my), (0, mx, 1, my), (0, mx, 2, mz), (1, my, 2, mz))
    )
    det = sxx * syy - sxy * sxy
    if det <= 1e-12 * sxx * syy:
        raise ValueError("flatness needs points that do not all stand in one line")
    return (syy * sxz - sxy * syz) / det, (sxx * syz - sxy * sxz) / det


def plane_range(places: Sequence[Place]) -> float:
    """Flatness by least squares: the range of the residuals about the fitted plane."""
    return _spread(places, plane_slopes(places))


def plane_zone(places: Sequence[Place]) -> float:
    """Flatness by minimum zone.

    A few points are solved by trying every crossing of two ties; the highest and the lowest of all points above that
    plane join them, until none stands out any more. The points that matter are few, however many there are.
    """
    plane_slopes(places)  # refuses points in one line
    active, last = _corners(places), -1.0
    while True:
        slopes = min(_ties(active), key=lambda pair: _spread(active, pair))
        outmost = [pick(places, key=lambda p: _above(p, slopes)) for pick in (max, min)]
        new = [p for p in dict.fromkeys(outmost) if p not in active]
        if not new:
            return _spread(places, slopes)
        zone = _spread(active, slopes)
        # As long as the zone grows, the points that do not touch it are done with; else they could come back for ever.
        active = [*(_touching(active, slopes) if zone > last else active), *new]
        last = zone


def _touching(places: Sequence[Place], slopes: tuple[float, float]) -> list[Place]:
    above = [_above(p, slopes) for p in places]
    low, high = min(above), max(above)
    near = 1e-9 * (abs(low) + abs(high))
    return [p for p, z in zip(places, above, strict=True) if z - low <= near or high - z <= near]


def _corners(places: Sequence[Place]) -> list[Place]:
    """Three points that span the field, so that no slope can grow without bound."""
    first = places[0]
    second = max(places, key=lambda p: math.hypot(p[0] - first[0], p[1] - first[1]))
    third = max(places, key=lambda p: abs(_left_turn(first[:2], second[:2], p[:2])))
    return [first, second, third]


def _ties(places: Sequence[Place]) -> Iterable[tuple[float, float]]:
    """Slopes of every plane to which two edges between the points are parallel."""
    edges = [(q[0] - p[0], q[1] - p[1], q[2] - p[2]) for p, q in combinations(places, 2)]
    for (ax, ay, az), (bx, by, bz) in combinations(edges, 2):
        det = ax * by - ay * bx
        if abs(det) > 1e-9 * math.hypot(ax, ay) * math.hypot(bx, by):
            yield (az * by - bz * ay) / det, (ax * bz - bx * az) / det


def _above(place: Place, slopes: tuple[float, float]) -> float:
    return place[2] - slopes[0] * place[0] - slopes[1] * place[1]


def _spread(places: Sequence[Place], slopes: tuple[float, float]) -> float:
    a, b = slopes  # spelt out here: this line takes nearly all of the time
    above = [z - a * x - b * y for x, y, z in places]
    return max(above) - min(above)


def _range(values: Iterable[float]) -> float:
    seen = list(values)
    return max(seen) - min(seen)
