"""One stock piece and how it comes apart, as a drawing: parts by letter and hatching, cuts with running distances."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from string import ascii_uppercase

from trued.plan.pieces import Rect
from trued.plan.tree import Axis, Cut, Offcut, Part, Used, Waste, cuts, offcuts, parts, walk
from trued.shapes import Drawing, Label, Line, Path, rectangle
from trued.sheets.cut_list import crowded, cut_lists
from trued.sheets.hatch import hatch_of

Show = Callable[[int], str]
"""How a size in units is written for the person."""

Shape = Line | Path | Label


@dataclass(frozen=True, slots=True)
class KeyLine:
    """What a letter stands for on one stock piece, and where its copies lie from the reference end."""

    letter: str
    name: str
    size: str
    places: tuple[str, ...]


def letters(used: Iterable[Used]) -> dict[str, str]:
    """A letter for each kind of part, the same on all stock pieces, in the order in which they come up."""
    names = dict.fromkeys(part.want for piece in used for part in parts(piece.tree))
    return {name: letter(number) for number, name in enumerate(names)}


def board_drawing(
    used: Used, *, show: Show, letters: Mapping[str, str], numbers: Mapping[Cut, int] | None = None
) -> Drawing:
    """The stock piece seen from above, its reference end at the left and its reference edge below.

    show:     writes a size, with its unit or without.
    letters:  of each kind of part, see `letters`.
    numbers:  of each cut in the order of cutting, where that is known.

    Where the words of the cuts would lie on one another only their lines are drawn; `board_key` then lists them.
    """
    stock = used.stock
    kinds = {name: hatch_of(number) for number, name in enumerate(letters)}
    shapes: list[Shape] = [rectangle(0, 0, stock.length, stock.width, "stock")]
    for leaf in walk(used.tree):
        match leaf:
            case Part():
                shapes += [_area(leaf.piece, kinds[leaf.want]), _name(leaf, letters)]
            case Offcut():
                shapes += [_area(leaf.piece, "offcut"), Label(_middle(leaf.piece), "keep")]
            case Waste():
                shapes += _waste(leaf.piece, used)
            case Cut():
                pass
    for mark in stock.defects:
        shapes += [_area(mark, "defect"), Label(_middle(mark), "defect")]
    if crowded(used):
        shapes += [_line(cut) for cut in cuts(used.tree)]
    else:
        shapes += [shape for cut in cuts(used.tree) for shape in _cut(cut, used, show, numbers or {})]
    shapes += _reference(used)
    return Drawing(_title(used), _told(used, show, letters), tuple(shapes))


def board_key(
    used: Used, *, show: Show, letters: Mapping[str, str], numbers: Mapping[Cut, int] | None = None
) -> tuple[KeyLine, ...]:
    """What each letter of the piece stands for, what is kept, and the cuts where the drawing has no room for them."""
    found: dict[str, list[Part]] = {}
    for part in parts(used.tree):
        found.setdefault(part.want, []).append(part)
    lines = [
        KeyLine(
            letters[name],
            name,
            f"{show(copies[0].length)} × {show(copies[0].width)}",
            tuple(f"{letters[name]}{part.copy}: {_place(part.piece, used, show)}" for part in copies),
        )
        for name, copies in sorted(found.items(), key=lambda pair: (len(letters[pair[0]]), letters[pair[0]]))
    ]
    lines += [
        KeyLine("keep", "offcut", _size(left.piece, show), (_place(left.piece, used, show),))
        for left in offcuts(used.tree)
    ]
    if crowded(used):
        lines += [KeyLine("cuts", strip, "", (own,)) for strip, own in cut_lists(used, show, numbers or {})]
    return tuple(lines)


def letter(number: int) -> str:
    more, last = divmod(number, 26)
    return (letter(more - 1) if more else "") + ascii_uppercase[last]


def _area(piece: Rect, role: str) -> Path:
    return rectangle(piece.x, piece.y, piece.length, piece.width, role)


def _middle(piece: Rect) -> tuple[float, float]:
    return (piece.x + piece.length / 2, piece.y + piece.width / 2)


def _name(part: Part, letters: Mapping[str, str]) -> Label:
    return Label(_middle(part.piece), f"{letters[part.want]}{part.copy}", "letter")


def _size(piece: Rect, show: Show) -> str:
    return f"{show(piece.length)} × {show(piece.width)}"


def _waste(piece: Rect, used: Used) -> list[Shape]:
    """Crossed out; named only where the word has room, so that a trim does not push words about."""
    corners = ((piece.x, piece.y), (piece.end_x, piece.end_y)), ((piece.x, piece.end_y), (piece.end_x, piece.y))
    shapes: list[Shape] = [_area(piece, "waste"), *(Line(start, end, "waste") for start, end in corners)]
    if piece.length > 0.2 * used.stock.length and piece.width > 0.05 * used.stock.length:
        shapes.append(Label(_middle(piece), "waste"))
    return shapes


def _cut(cut: Cut, used: Used, show: Show, numbers: Mapping[Cut, int]) -> Iterator[Shape]:
    """The line of the blade; its running distance on the reference side, its number on the other."""
    out = 0.035 * used.stock.length
    piece, number = cut.piece, f"cut {numbers[cut]}" if cut in numbers else ""
    yield _line(cut)
    if cut.axis is Axis.ACROSS:
        at = piece.x + cut.position
        below = piece.y == 0
        if below:
            yield Line((at, 0), (at, -out / 2), "measure")
        yield Label((at, -out if below else piece.y + out / 2), show(at))
        if number:
            yield Label((at, piece.end_y + (out if piece.end_y == used.stock.width else -out / 2)), number, "number")
        return
    at = piece.y + cut.position
    beside = piece.end_x == used.stock.length
    if beside:
        yield Line((piece.end_x, at), (piece.end_x + out / 2, at), "measure")
    yield Label((piece.end_x + (0.7 * out if beside else -out / 2), at), show(at), anchor="start" if beside else "end")
    if number:
        yield Label((piece.x + out / 2, at), number, "number", "start")


def _line(cut: Cut) -> Line:
    """The middle of the kerf."""
    piece, middle = cut.piece, cut.position + cut.kerf / 2
    if cut.axis is Axis.ACROSS:
        return Line((piece.x + middle, piece.y), (piece.x + middle, piece.end_y), "kerf")
    return Line((piece.x, piece.y + middle), (piece.end_x, piece.y + middle), "kerf")


def _reference(used: Used) -> list[Shape]:
    out = 0.035 * used.stock.length
    tick = Line((0, used.stock.width), (0, -1.4 * out), "measure")
    return [tick, Label((0, -2 * out), "0, reference end", anchor="start")]


def _title(used: Used) -> str:
    return f"{used.stock.id}, piece {used.copy}"


def _told(used: Used, show: Show, letters: Mapping[str, str]) -> str:
    """The same in words, from the tree itself."""
    told = [f"{_title(used)}, {show(used.stock.length)} × {show(used.stock.width)}, its reference end at the left."]
    told += [
        f"{letters[part.want]}{part.copy} {part.want}: {_place(part.piece, used, show)}." for part in parts(used.tree)
    ]
    told += [f"To keep, {_size(left.piece, show)}: {_place(left.piece, used, show)}." for left in offcuts(used.tree)]
    return " ".join([*told, "Drawn in proportion: do not scale."])


def _place(piece: Rect, used: Used, show: Show) -> str:
    along = f"{show(piece.x)} to {show(piece.end_x)} from the reference end"
    if piece.y == 0 and piece.end_y == used.stock.width:
        return along
    return f"{along}, {show(piece.y)} to {show(piece.end_y)} from the reference edge"
