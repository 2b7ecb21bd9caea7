"""Pieces that the drawings of the checks share. Units are about an inch; x to the right, y away from the operator."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from trued.drawing.shapes import Arrow, Label, Line, Path, Point, rectangle

Shape = Line | Path | Arrow | Label


def saw_from_above(half_width: float = 13.0, half_depth: float = 10.0) -> list[Shape]:
    """The saw's table with its two sides named."""
    return [
        rectangle(-half_width, -half_depth, 2 * half_width, 2 * half_depth, "table"),
        Label((0.0, half_depth + 0.7), "far side"),
        Label((0.0, -half_depth - 1.5), "your side"),
    ]


def turned(points: Sequence[Point], about: Point, rad: float) -> tuple[Point, ...]:
    """Points turned counter-clockwise about a centre."""
    c, s = math.cos(rad), math.sin(rad)
    ax, ay = about
    return tuple((ax + c * (x - ax) - s * (y - ay), ay + s * (x - ax) + c * (y - ay)) for x, y in points)


def measured(start: Point, end: Point, text: str, at: Point, anchor: str = "middle") -> list[Shape]:
    """A place to measure across, with its name."""
    return [Arrow(start, end, "measure", both_ends=True), Label(at, text, "measure", anchor)]


def upside_down(shapes: Sequence[Shape]) -> tuple[Shape, ...]:
    """The same shapes with the operator's side and the far side exchanged; words stay readable."""
    return tuple(_turned_over(shape) for shape in shapes)


def _turned_over(shape: Shape) -> Shape:
    if isinstance(shape, Label):
        return replace(shape, at=_over(shape.at))
    if isinstance(shape, Path):
        return replace(shape, points=tuple(_over(p) for p in shape.points))
    return replace(shape, start=_over(shape.start), end=_over(shape.end))


def _over(point: Point) -> Point:
    return point[0], -point[1]
