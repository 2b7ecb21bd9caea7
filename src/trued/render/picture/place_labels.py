"""Words that keep out of each other's way: each label takes the nearest free place to where it was asked for.

A label that had to go far gets a thin line back to its place. Words never leave the picture to the sides; above and
below, the picture grows.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trued.drawing.shapes import Label, Point
from trued.render.picture.frame import MARGIN

LINE_HEIGHT = 1.25
_APART = 2.0  # px between the boxes of two labels
_OFF = 3.0  # px between a place and words that start or end there
_FAR = 1.3  # text sizes; a label moved further gets its line
_CROSSING = 0.6  # text sizes that a label would rather move than lie on a line
_ANCHORS = {"start": 0.0, "middle": 0.5, "end": 1.0}

Segment = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Box:
    """A box on the picture, px with y down."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right side."""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """Its lower side."""
        return self.top + self.height

    def meets(self, other: "Box", apart: float = 0.0) -> bool:
        """Whether the two overlap, or come nearer than `apart`."""
        beside = self.right + apart <= other.left or other.right + apart <= self.left
        return not (beside or self.bottom + apart <= other.top or other.bottom + apart <= self.top)

    def moved(self, dx: float, dy: float) -> "Box":
        """The same box elsewhere."""
        return Box(self.left + dx, self.top + dy, self.width, self.height)


@dataclass(frozen=True, slots=True)
class Words:
    """A label with its lines and how large they come out."""

    label: Label
    lines: tuple[str, ...]
    width: float
    height: float
    bold: bool

    @property
    def before(self) -> float:
        """How far the words reach to the left of their place; words that start there keep a little off it."""
        share = _ANCHORS[self.label.anchor]
        return self.width * share + _OFF * (2 * share - 1)

    @property
    def after(self) -> float:
        """How far they reach to the right of it."""
        return self.width - self.before

    @property
    def anchor_x(self) -> float:
        """From the left side of the words to where their anchor is."""
        return self.width * _ANCHORS[self.label.anchor]


@dataclass(frozen=True, slots=True)
class Placed:
    """Words where they lie; `leader` goes from their box to the place they speak of."""

    words: Words
    box: Box
    leader: Segment | None


def place(words: Sequence[tuple[Words, Point]], lines: Sequence[Segment], width: float, size: float) -> list[Placed]:
    """All labels, in the order given: the earlier ones get the better places.

    words: each with its place on the picture; lines: what the words should rather not lie on.
    """
    placed: list[Placed] = []
    for label, at in words:
        wish = _kept_in(Box(at[0] - label.before, at[1] - label.height / 2, label.width, label.height), width)
        taken = [other.box for other in placed]
        box = _nearest_free(wish, taken, _near(lines, wish, 12 * size), width, size)
        placed.append(Placed(label, box, _leader(box, at, size)))
    return placed


def _kept_in(box: Box, width: float) -> Box:
    least, most = MARGIN / 2, width - MARGIN / 2 - box.width
    return Box(max(least, min(box.left, most)), box.top, box.width, box.height)


def _nearest_free(wish: Box, taken: Sequence[Box], lines: Sequence[Segment], width: float, size: float) -> Box:
    best, least = wish, float("inf")
    for distance, dx, dy in _moves(size, wish):
        if distance >= least:
            break
        box = _kept_in(wish.moved(dx, dy), width)
        if any(box.meets(other, _APART) for other in taken):
            continue
        cost = distance + size * _CROSSING * sum(crosses(line, box) for line in lines)
        if cost < least:
            best, least = box, cost
    return best if least < float("inf") else _below(wish, taken)


def _below(wish: Box, taken: Sequence[Box]) -> Box:
    """Under everything in the way: there is always room there."""
    return Box(wish.left, max(box.bottom for box in taken) + _APART, wish.width, wish.height)


def _moves(size: float, wish: Box) -> list[tuple[float, float, float]]:
    """Ways to move, nearest first; sideways counts more, so that words stay above or below what they speak of."""
    step = size / 3
    ups = [n * step for n in range(-24, 25)]
    asides = [n * min(wish.width, 6 * size) / 4 for n in range(-6, 7)]
    return sorted(((dx * dx * 1.5 + dy * dy) ** 0.5, dx, dy) for dx in asides for dy in ups)


def _near(lines: Sequence[Segment], box: Box, reach: float) -> list[Segment]:
    area = Box(box.left - reach, box.top - reach, box.width + 2 * reach, box.height + 2 * reach)
    return [line for line in lines if crosses(line, area)]


def crosses(line: Segment, box: Box) -> bool:
    """Whether a straight line touches the box: it is cut to the box's four sides, and something is left or not."""
    (x, y), (to_x, to_y) = line
    enter, leave = 0.0, 1.0
    for start, way, low, high in ((x, to_x - x, box.left, box.right), (y, to_y - y, box.top, box.bottom)):
        if way == 0:
            if not low <= start <= high:
                return False
            continue
        first, last = sorted(((low - start) / way, (high - start) / way))
        enter, leave = max(enter, first), min(leave, last)
    return enter <= leave


def _leader(box: Box, at: Point, size: float) -> Segment | None:
    near = (min(max(at[0], box.left), box.right), min(max(at[1], box.top), box.bottom))
    away = ((near[0] - at[0]) ** 2 + (near[1] - at[1]) ** 2) ** 0.5
    return (near, at) if away > _FAR * size else None


def segments(runs: Sequence[tuple[Sequence[Point], bool]]) -> Iterator[Segment]:
    """The straight lines of runs of points; a closed run comes back to its start."""
    for points, closed in runs:
        ends = [*points[1:], points[0]] if closed else points[1:]
        yield from zip(points, ends, strict=False)
