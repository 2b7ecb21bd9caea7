"""A drawing as SVG: for the page with classes (light, dark), for print black on white.

`picture` is the same as values: where everything comes to lie.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from zlib import crc32

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, Point
from trued.render.picture.arrow import drawn
from trued.render.picture.frame import MARGIN, Frame, frame_for
from trued.render.picture.hatch import pattern
from trued.render.picture.pen import Palette, Pen
from trued.render.picture.place_labels import LINE_HEIGHT, Placed, Segment, Words, place, segments
from trued.render.picture.printable_text import plain
from trued.render.picture.role_styles import look_of
from trued.render.picture.text_width import PRINT, width_of, wrapped

_SIZES = {"page": 13.0, "print": 11.0}
"""Text size in px of the picture. Shown as wide as it was asked for, no text is smaller than this."""

_MOST_HIGH = 1.25
"""Height of the shapes over the width, at most, where nothing else is asked."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with every place worked out, in px with y down; top and bottom are its edges."""

    drawing: Drawing
    frame: Frame
    labels: tuple[Placed, ...]
    width: float
    top: float
    bottom: float

    @property
    def height(self) -> float:
        """From edge to edge."""
        return self.bottom - self.top


def svg(
    drawing: Drawing, *, width: float = 360, most_height: float = 0, palette: Palette = "page", name: str = ""
) -> str:
    """The drawing as one `<svg>` element.

    width:        px that it is meant to be shown at, at least; text then is 13 px (11 pt in print).
    most_height:  of the shapes, in px; 0 is 1.25 times the width.
    name:         begins its ids; needed only where one page shows the same drawing twice.
    """
    made = picture(drawing, width=width, most_height=most_height, palette=palette)
    pen = Pen(palette, _SIZES[palette], name or f"d{crc32(repr((drawing, width)).encode('utf-8', 'replace')):08x}")
    return "".join(_parts(made, pen))


def picture(drawing: Drawing, *, width: float = 360, most_height: float = 0, palette: Palette = "page") -> Picture:
    """Where everything of the drawing comes to lie."""
    size = _SIZES[palette]
    words = [_words(shape, width, palette) for shape in drawing.shapes if isinstance(shape, Label)]
    spans = [(each.label, each.before, each.after) for each in words]
    frame = frame_for(drawing, spans, width, most_height or width * _MOST_HIGH)
    lines = list(_lines(drawing, frame))
    placed = place([(each, frame.at(each.label.at)) for each in words], lines, width, size)
    heights = [y for line in lines for _, y in line]
    heights += [y for label in placed for y in (label.box.top, label.box.bottom)]
    return Picture(drawing, frame, tuple(placed), width, min(heights) - MARGIN, max(heights) + MARGIN)


def _words(label: Label, width: float, palette: Palette) -> Words:
    size, bold = _SIZES[palette], look_of(label.role).bold
    share = PRINT if palette == "print" else 1.0
    lines = wrapped(label.text, width * (0.62 if label.anchor == "middle" else 0.45), size, bold=bold, share=share)
    wide = max(width_of(line, size, bold=bold, share=share) for line in lines)
    return Words(label, lines, wide, len(lines) * size * LINE_HEIGHT, bold)


def _lines(drawing: Drawing, frame: Frame) -> Iterator[Segment]:
    runs: list[tuple[Sequence[Point], bool]] = []
    for shape in drawing.shapes:
        match shape:
            case Path():
                runs.append(([frame.at(point) for point in shape.points], shape.closed))
            case Line() | Arrow():
                runs.append(([frame.at(shape.start), frame.at(shape.end)], False))
            case Label():
                pass
    return segments(runs)


def _parts(made: Picture, pen: Pen) -> Iterator[str]:
    size = f' width="{made.width:g}pt" height="{made.height:.1f}pt"' if pen.palette == "print" else ""
    view = f"0 {made.top:.1f} {made.width:g} {made.height:.1f}"
    ids = f'aria-labelledby="{pen.name}-title {pen.name}-told"'
    yield f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img" {ids} viewBox="{view}"{size}>'
    yield f'<title id="{pen.name}-title">{_text(made.drawing.title)}</title>'
    yield f'<desc id="{pen.name}-told">{_text(made.drawing.told)}</desc>'
    hatches = sorted({pen.hatched(shape.role) for shape in made.drawing.shapes} - {""})
    if hatches:
        patterns = (pattern(hatch, f"{pen.name}-{hatch}", pen.hatching()) for hatch in hatches)
        yield f"<defs>{''.join(patterns)}</defs>"
    for shape in made.drawing.shapes:
        yield from _shape(shape, made.frame, pen)
    for label in made.labels:
        yield from _label(label, pen)
    yield "</svg>"


def _shape(shape: Line | Path | Arrow | Label, frame: Frame, pen: Pen) -> Iterator[str]:
    match shape:
        case Line():
            points = _points((frame.at(shape.start), frame.at(shape.end)))
            yield f'<polyline points="{points}" {pen.line(shape.role, dashed=shape.dashed)}/>'
        case Path(closed=False):
            yield f'<polyline points="{_points([frame.at(point) for point in shape.points])}" {pen.line(shape.role)}/>'
        case Path():
            points = _points([frame.at(point) for point in shape.points])
            if pen.hatched(shape.role):
                yield f'<polygon points="{points}" {pen.area("part")}/>'
                yield f'<polygon points="{points}" fill="url(#{pen.name}-{shape.role})"/>'
            else:
                yield f'<polygon points="{points}" {pen.area(shape.role)}/>'
        case Arrow():
            yield from _arrow(shape, frame, pen)
        case Label():
            pass  # words lie on top of everything


def _arrow(arrow: Arrow, frame: Frame, pen: Pen) -> Iterator[str]:
    width = look_of(arrow.role).width
    made = drawn(frame.at(arrow.start), frame.at(arrow.end), both_ends=arrow.both_ends, width=width)
    yield f'<polyline points="{_points(made.shaft)}" {pen.line(arrow.role)}/>'
    for head in made.heads:
        yield f'<polygon points="{_points(head)}" {pen.tip(arrow.role)}/>'


def _label(placed: Placed, pen: Pen) -> Iterator[str]:
    if placed.leader:
        yield f'<polyline points="{_points(placed.leader)}" {pen.leader()}/>'
    words, box = placed.words, placed.box
    x = box.left + words.anchor_x
    first = box.top + pen.size * (LINE_HEIGHT / 2 + 0.35)
    lines = (
        f'<tspan x="{x:.1f}" y="{first + n * pen.size * LINE_HEIGHT:.1f}">{_text(line)}</tspan>'
        for n, line in enumerate(words.lines)
    )
    yield f'<text text-anchor="{words.label.anchor}" {pen.words(words.label.role)}>{"".join(lines)}</text>'


def _points(points: Sequence[Point]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)


def _text(text: str) -> str:
    for sign, written in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;")):
        text = text.replace(sign, written)
    return plain(text)
