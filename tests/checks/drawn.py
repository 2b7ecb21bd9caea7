"""What a drawing shows, by role."""

from __future__ import annotations

from trued.shapes import Arrow, Drawing, Label, Line, Path


def arrows(drawing: Drawing, role: str = "move") -> list[Arrow]:
    return [shape for shape in drawing.shapes if isinstance(shape, Arrow) and shape.role == role]


def lines(drawing: Drawing, role: str) -> list[Line]:
    return [shape for shape in drawing.shapes if isinstance(shape, Line) and shape.role == role and not shape.dashed]


def paths(drawing: Drawing, role: str) -> list[Path]:
    return [shape for shape in drawing.shapes if isinstance(shape, Path) and shape.role == role]


def labels(drawing: Drawing) -> list[Label]:
    return [shape for shape in drawing.shapes if isinstance(shape, Label)]
