"""Arrows as a line and heads: plain shapes, which every viewer and printer draws alike."""

from dataclasses import dataclass
from math import hypot

from trued.drawing.shapes import Point

_LONG, _HALF = 8.0, 3.2
"""Length and half width of a head of an ordinary line, in px."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """An arrow on the picture: its shaft and its heads, three points each."""

    shaft: tuple[Point, Point]
    heads: tuple[tuple[Point, Point, Point], ...]


def drawn(start: Point, end: Point, *, both_ends: bool, width: float) -> Drawn:
    """The arrow from `start` to `end` on the picture, with heads that suit its width.

    One that is too short for its head keeps its tip and grows backwards; one with two heads gets smaller heads.
    """
    long = _LONG * (0.6 + 0.4 * width)
    length = hypot(end[0] - start[0], end[1] - start[1])
    way = ((end[0] - start[0]) / length, (end[1] - start[1]) / length) if length else (0.0, -1.0)
    if both_ends:
        long = min(long, max(0.45 * length, 2.0))
        shaft = (_along(start, way, long), _along(end, way, -long))
        return Drawn(shaft, (_head(start, (-way[0], -way[1]), long), _head(end, way, long)))
    tail = start if length > 1.8 * long else _along(end, way, -1.8 * long)
    return Drawn((tail, _along(end, way, -long)), (_head(end, way, long),))


def _head(tip: Point, way: Point, long: float) -> tuple[Point, Point, Point]:
    half = long * _HALF / _LONG
    back = _along(tip, way, -long)
    across = (-way[1], way[0])
    return (tip, _along(back, across, half), _along(back, across, -half))


def _along(point: Point, way: Point, far: float) -> Point:
    return (point[0] + way[0] * far, point[1] + way[1] * far)
