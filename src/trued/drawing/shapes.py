"""Drawings as values: what a check or a plan wants shown, turned into SVG or a printed sheet elsewhere.

Places are in the drawing's own units, x to the right, y away from the operator (up on paper). A `role` says what a
thing is (table, saw, fence, board, cut, blade, measure, move, waste, note ...): light, dark and print choose the look.
"""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line; `dashed` for what is hidden or was before."""

    start: Point
    end: Point
    role: str
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Path:
    """A run of points, closed into an area when `closed`."""

    points: tuple[Point, ...]
    role: str
    closed: bool = True

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise ValueError("a path needs at least two points")


@dataclass(frozen=True, slots=True)
class Arrow:
    """Points from `start` to `end`: the way to move, the way of feed, where to measure when `both_ends`."""

    start: Point
    end: Point
    role: str
    both_ends: bool = False


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a place; `anchor` is start, middle or end of the text."""

    at: Point
    text: str
    role: str = "note"
    anchor: str = "middle"

    def __post_init__(self) -> None:
        if self.anchor not in ("start", "middle", "end"):
            raise ValueError(f"anchor is start, middle or end, got {self.anchor!r}")


@dataclass(frozen=True, slots=True)
class Drawing:
    """A titled drawing; `told` says the same in words for whoever cannot see it. Later shapes lie on top.

    to_mend: the part of `told` that says how it is mended, as the shapes with the role move do.
    """

    title: str
    told: str
    shapes: tuple[Line | Path | Arrow | Label, ...]
    to_mend: str = ""

    def __post_init__(self) -> None:
        if not (self.title and self.told and self.shapes):
            raise ValueError("a drawing needs a title, the same told in words, and at least one shape")
        if self.to_mend not in self.told:
            raise ValueError("what is to be mended is a part of what is told")


def rectangle(x: float, y: float, width: float, height: float, role: str) -> Path:
    """A rectangle with its corner nearest the origin at (x, y)."""
    return Path(((x, y), (x + width, y), (x + width, y + height), (x, y + height)), role)


_STILL = "Turn nothing by this drawing: go by what is said to do."


def not_to_be_moved(drawing: Drawing) -> Drawing:
    """The drawing of something that nothing is to be done about: no arrow says to move, and the words say so."""
    kept = tuple(shape for shape in drawing.shapes if shape.role != "move")
    found = " ".join(drawing.told.replace(drawing.to_mend, "").split()) if drawing.to_mend else drawing.told
    told = found if found.endswith(_STILL) else f"{found} {_STILL}"
    return Drawing(drawing.title, told, kept or drawing.shapes)
