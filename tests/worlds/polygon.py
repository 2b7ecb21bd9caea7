"""Flat shapes that are really cut: clipping by a half-plane, turning, moving. Nothing of the product is used here."""

from __future__ import annotations

import math

Point = tuple[float, float]
Polygon = list[Point]


def clip(polygon: Polygon, normal: Point, limit: float) -> Polygon:
    """What is left of a convex polygon where normal . p <= limit."""
    kept: Polygon = []
    for i, p in enumerate(polygon):
        q = polygon[(i + 1) % len(polygon)]
        a, b = (normal[0] * x + normal[1] * y - limit for x, y in (p, q))
        if a <= 0.0:
            kept.append(p)
        if (a < 0.0 < b) or (b < 0.0 < a):
            t = a / (a - b)
            kept.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
    return kept


def turn(polygon: Polygon, rad: float) -> Polygon:
    """Turned counter-clockwise about the origin."""
    c, s = math.cos(rad), math.sin(rad)
    return [(c * x - s * y, s * x + c * y) for x, y in polygon]


def shift(polygon: Polygon, by: Point) -> Polygon:
    return [(x + by[0], y + by[1]) for x, y in polygon]


def direction(p: Point, q: Point) -> float:
    return math.atan2(q[1] - p[1], q[0] - p[0])


def chord(polygon: Polygon, y: float) -> tuple[float, float]:
    """Least and greatest x of a convex polygon at height y."""
    xs = []
    for i, p in enumerate(polygon):
        q = polygon[(i + 1) % len(polygon)]
        if (p[1] - y) * (q[1] - y) <= 0.0 and p[1] != q[1]:
            xs.append(p[0] + (y - p[1]) / (q[1] - p[1]) * (q[0] - p[0]))
    return min(xs), max(xs)
