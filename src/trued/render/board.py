"""One stock piece and how it comes apart, as a drawing: parts by letter and hatching, cuts with running distances."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from string import ascii_uppercase

from trued.drawing.shapes import Drawing, Label, Line, Path, rectangle
from trued.plan.document import PlanBoard, PlanCut, PlanPlaced, PlanRect
from trued.plan.layout.cut_tree import Axis
from trued.render.cut_list import crowded, cut_lists, place, same
from trued.render.picture.hatch import hatch_of

Show = Callable[[float], str]
"""How a size in millimetres is written for the person."""

Shape = Line | Path | Label


@dataclass(frozen=True, slots=True)
class KeyLine:
    """What a letter stands for on one stock piece, and where its copies lie from the reference end."""

    letter: str
    name: str
    size: str
    places: tuple[str, ...]


def letters(boards: Iterable[PlanBoard]) -> dict[str, str]:
    """A letter for each kind of part, the same on all stock pieces, in the order in which they come up."""
    names = dict.fromkeys(placed.part for board in boards for placed in board.placements)
    return {name: letter(number) for number, name in enumerate(names)}


def board_drawing(board: PlanBoard, *, show: Show, letters: Mapping[str, str]) -> Drawing:
    """The stock piece seen from above, its reference end at the left and its reference edge below.

    show: writes a size, with its unit or without. letters: of each kind of part, see `letters`.

    Where the words of the cuts would lie on one another only their lines are drawn; `board_key` then lists them.
    """
    kinds = {name: hatch_of(number) for number, name in enumerate(letters)}
    shapes: list[Shape] = [rectangle(0, 0, board.length, board.width, "stock")]
    for placed in board.placements:
        shapes += [_area(placed.rect, kinds[placed.part]), Label(placed.rect.middle, _name(placed, letters), "letter")]
    for left in board.offcuts:
        shapes += [_area(left, "offcut"), Label(left.middle, "keep")]
    for piece in board.waste:
        shapes += _waste(piece, board)
    for mark in board.defects:
        shapes += [_area(mark, "defect"), Label(mark.middle, "defect")]
    if crowded(board):
        shapes += [_line(cut) for cut in board.cuts]
    else:
        shapes += [shape for cut in board.cuts for shape in _cut(cut, board, show)]
    shapes += _reference(board)
    return Drawing(board.title, _told(board, show, letters), tuple(shapes))


def board_key(board: PlanBoard, *, show: Show, letters: Mapping[str, str]) -> tuple[KeyLine, ...]:
    """What each letter of the piece stands for, what is kept, and the cuts where the drawing has no room for them."""
    found: dict[str, list[PlanPlaced]] = {}
    for placed in board.placements:
        found.setdefault(placed.part, []).append(placed)
    lines = [
        KeyLine(
            letters[name],
            name,
            _size(_own(copies[0]), show),
            tuple(f"{_name(one, letters)}: {_place(one.rect, board, show)}" for one in copies),
        )
        for name, copies in sorted(found.items(), key=lambda pair: (len(letters[pair[0]]), letters[pair[0]]))
    ]
    lines += [KeyLine("keep", "offcut", _size(left, show), (_place(left, board, show),)) for left in board.offcuts]
    if crowded(board):
        lines += [KeyLine("cuts", strip, "", (own,)) for strip, own in cut_lists(board, show)]
    return tuple(lines)


def letter(number: int) -> str:
    """A, B … Z, AA, AB …"""
    more, last = divmod(number, 26)
    return (letter(more - 1) if more else "") + ascii_uppercase[last]


def _own(placed: PlanPlaced) -> PlanRect:
    """The part's own length and width, however it lies."""
    length, width = (placed.width, placed.length) if placed.turned else (placed.length, placed.width)
    return PlanRect(0.0, 0.0, length, width)


def _area(piece: PlanRect, role: str) -> Path:
    return rectangle(piece.x, piece.y, piece.length, piece.width, role)


def _name(placed: PlanPlaced, letters: Mapping[str, str]) -> str:
    return f"{letters[placed.part]}{placed.copy}"


def _size(piece: PlanRect, show: Show) -> str:
    return f"{show(piece.length)} × {show(piece.width)}"


def _waste(piece: PlanRect, board: PlanBoard) -> list[Shape]:
    """Crossed out; named only where the word has room, so that a trim does not push words about."""
    corners = ((piece.x, piece.y), (piece.end_x, piece.end_y)), ((piece.x, piece.end_y), (piece.end_x, piece.y))
    shapes: list[Shape] = [_area(piece, "waste"), *(Line(start, end, "waste") for start, end in corners)]
    if piece.length > 0.2 * board.length and piece.width > 0.05 * board.length:
        shapes.append(Label(piece.middle, "waste"))
    return shapes


def _cut(cut: PlanCut, board: PlanBoard, show: Show) -> Iterator[Shape]:
    """The line of the blade; its running distance on the reference side, its number on the other."""
    out = 0.035 * board.length
    piece, number, at = cut.rect, f"cut {cut.number}" if cut.number else "", place(cut)
    yield _line(cut)
    if cut.axis is Axis.ACROSS:
        below = piece.y == 0
        if below:
            yield Line((at, 0), (at, -out / 2), "measure")
        yield Label((at, -out if below else piece.y + out / 2), show(at))
        if number:
            whole = same(piece.end_y, board.width)
            yield Label((at, piece.end_y + (out if whole else -out / 2)), number, "number")
        return
    beside = same(piece.end_x, board.length)
    if beside:
        yield Line((piece.end_x, at), (piece.end_x + out / 2, at), "measure")
    yield Label((piece.end_x + (0.7 * out if beside else -out / 2), at), show(at), anchor="start" if beside else "end")
    if number:
        yield Label((piece.x + out / 2, at), number, "number", "start")


def _line(cut: PlanCut) -> Line:
    """The middle of the kerf."""
    piece, middle = cut.rect, place(cut) + cut.kerf / 2
    if cut.axis is Axis.ACROSS:
        return Line((middle, piece.y), (middle, piece.end_y), "kerf")
    return Line((piece.x, middle), (piece.end_x, middle), "kerf")


def _reference(board: PlanBoard) -> list[Shape]:
    out = 0.035 * board.length
    tick = Line((0, board.width), (0, -1.4 * out), "measure")
    return [tick, Label((0, -2 * out), "0, reference end", anchor="start")]


def _told(board: PlanBoard, show: Show, letters: Mapping[str, str]) -> str:
    """The same in words."""
    told = [f"{board.title}, {show(board.length)} × {show(board.width)}, its reference end at the left."]
    told += [f"{_name(one, letters)} {one.part}: {_place(one.rect, board, show)}." for one in board.placements]
    told += [f"To keep, {_size(left, show)}: {_place(left, board, show)}." for left in board.offcuts]
    return " ".join([*told, "Drawn in proportion: do not scale."])


def _place(piece: PlanRect, board: PlanBoard, show: Show) -> str:
    along = f"{show(piece.x)} to {show(piece.end_x)} from the reference end"
    if piece.y == 0 and same(piece.end_y, board.width):
        return along
    return f"{along}, {show(piece.y)} to {show(piece.end_y)} from the reference edge"
