"""Where a drawing's own places come to lie on the picture: one scale for x and y, y turned so that away is up."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, Point

MARGIN = 10.0
"""Free on every side, in px: an arrow tip or a thick line on the very edge would be cut."""

_LEAST_SHARE = 0.6
"""The shapes keep at least this much of the width, however long the words beside them are."""


@dataclass(frozen=True, slots=True)
class Frame:
    """From places of the drawing to places on the picture, in px with y down."""

    scale: float
    left: float
    top: float

    def at(self, point: Point) -> Point:
        """The place on the picture."""
        return (self.left + point[0] * self.scale, self.top - point[1] * self.scale)

    def pulled(self, dx: float, dy: float) -> "Frame":
        """The same picture, moved."""
        return Frame(self.scale, self.left + dx, self.top + dy)


def points_of(drawing: Drawing) -> Iterator[Point]:
    """Every place that the shapes touch, those of the words left out."""
    for shape in drawing.shapes:
        match shape:
            case Path():
                yield from shape.points
            case Line() | Arrow():
                yield from (shape.start, shape.end)
            case Label():
                pass


def frame_for(drawing: Drawing, spans: Sequence[tuple[Label, float, float]], width: float, most_height: float) -> Frame:
    """The largest scale at which the shapes, and the words as far as they may ask for room, fit into the width.

    spans: of each label how far its words reach to the left and to the right of its place, in px.
    """
    places = list(points_of(drawing)) or [label.at for label, _, _ in spans]
    wide, high = _extent(places, 0), _extent(places, 1)
    room = width - 2 * MARGIN
    scales = [room / wide] if wide > 0 else []
    scales += [(most_height - 2 * MARGIN) / high] if high > 0 else []
    largest = min(scales, default=1.0)
    reaches = [(label.at[0], before, after) for label, before, after in spans]
    reaches += [(x, 0.0, 0.0) for x, _ in places]
    scale = _shrunk(reaches, room, largest)
    return _centred(reaches, scale, width)


def _shrunk(reaches: Sequence[tuple[float, float, float]], room: float, largest: float) -> float:
    least = largest * _LEAST_SHARE
    for step in range(21):
        scale = largest - (largest - least) * step / 20
        low, high = _reach(reaches, scale)
        if high - low <= room:
            return scale
    return least


def _reach(reaches: Sequence[tuple[float, float, float]], scale: float) -> tuple[float, float]:
    return min(x * scale - before for x, before, _ in reaches), max(x * scale + after for x, _, after in reaches)


def _centred(reaches: Sequence[tuple[float, float, float]], scale: float, width: float) -> Frame:
    """The shapes lie inside the margins; within that, shapes and words together lie in the middle."""
    low, high = _reach(reaches, scale)
    left = width / 2 - (low + high) / 2
    shapes = [x * scale for x, before, after in reaches if before == after == 0]
    least, most = MARGIN - min(shapes), width - MARGIN - max(shapes)
    return Frame(scale, min(max(left, least), most), 0.0)


def _extent(places: Sequence[Point], axis: int) -> float:
    values = [place[axis] for place in places]
    return max(values) - min(values)
