"""What a drawing shows, by role."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, Point


def arrows(drawing: Drawing, role: str = "move") -> list[Arrow]:
    return [shape for shape in drawing.shapes if isinstance(shape, Arrow) and shape.role == role]


def lines(drawing: Drawing, role: str) -> list[Line]:
    return [shape for shape in drawing.shapes if isinstance(shape, Line) and shape.role == role and not shape.dashed]


def paths(drawing: Drawing, role: str) -> list[Path]:
    return [shape for shape in drawing.shapes if isinstance(shape, Path) and shape.role == role]


def labels(drawing: Drawing) -> list[Label]:
    return [shape for shape in drawing.shapes if isinstance(shape, Label)]


Box = tuple[float, float, float, float]


def box(points: Iterable[Point]) -> Box:
    """Least and most of x, least and most of y."""
    xs, ys = zip(*points, strict=True)
    return min(xs), max(xs), min(ys), max(ys)


@dataclass(frozen=True)
class Normal:
    """A drawing mirrored so that the keeper lies at x above 0 and the fence at y above 0, whatever the layout."""

    labels: Mapping[str, Point]
    paths: Mapping[str, Sequence[tuple[Point, ...]]]
    lines: Mapping[str, Sequence[tuple[Point, Point]]]
    arrows: Mapping[str, Sequence[tuple[Point, Point]]]


def normal(drawing: Drawing, keeper: str = "right", fence: str = "far") -> Normal:
    """Points rounded and corners sorted, so that mirrored drawings can be compared."""
    kx, fy = (1 if keeper == "right" else -1), (1 if fence == "far" else -1)

    def at(p: Point) -> Point:
        return round(kx * p[0], 6) + 0.0, round(fy * p[1], 6) + 0.0

    named: tuple[dict, dict, dict] = ({}, {}, {})
    for shape in drawing.shapes:
        if isinstance(shape, Path):
            named[0].setdefault(shape.role, []).append(tuple(sorted(map(at, shape.points))))
        elif not isinstance(shape, Label):
            kind = named[2] if isinstance(shape, Arrow) else named[1]
            kind.setdefault(shape.role, []).append((at(shape.start), at(shape.end)))
    return Normal({label.text: at(label.at) for label in labels(drawing)}, *named)


def side(point: Point) -> str:
    """Where a point of a normal drawing lies, in words."""
    x, y = point
    return (
        f"{'keeper' if x > 0 else 'offcut' if x < 0 else 'blade'} {'fence' if y > 0 else 'free' if y < 0 else 'middle'}"
    )
