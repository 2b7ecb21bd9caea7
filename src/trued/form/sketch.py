"""Pieces that the drawings of the checks share. Units are about an inch; x to the right, y away from the operator."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trued.shapes import Arrow, Label, Line, Path, Point, rectangle

Shape = Line | Path | Arrow | Label


def saw_from_above(half_width: float = 13.0, half_depth: float = 10.0) -> list[Shape]:
    """The saw's table with its two sides named."""
    return [
        rectangle(-half_width, -half_depth, 2 * half_width, 2 * half_depth, "table"),
        Label((0.0, half_depth + 0.7), "far side"),
        Label((0.0, -half_depth - 1.5), "operator's side"),
    ]


def turned(points: Sequence[Point], about: Point, rad: float) -> tuple[Point, ...]:
    """Points turned counter-clockwise about a centre."""
    c, s = math.cos(rad), math.sin(rad)
    ax, ay = about
    return tuple((ax + c * (x - ax) - s * (y - ay), ay + s * (x - ax) + c * (y - ay)) for x, y in points)


def measured(start: Point, end: Point, text: str, at: Point, anchor: str = "middle") -> list[Shape]:
    """A place to measure across, with its name."""
    return [Arrow(start, end, "measure", both_ends=True), Label(at, text, "measure", anchor)]
