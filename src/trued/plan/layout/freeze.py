"""From the rooms of a search to a cut tree in the raw stock piece, with its trims and final cuts as real cuts."""

from dataclasses import dataclass

from trued.plan.layout.cut_tree import Axis, Cut, Leaf, Node, Offcut, Part, Sized, Waste
from trued.plan.layout.free_pieces import Bed, Room, mark_holders
from trued.plan.layout.pieces import Rect, Rules, Stock, Want


def useful(length: int, width: int, stock: Stock, rules: Rules) -> bool:
    """Whether an offcut is worth keeping: both sides at least the least useful size, or the whole side of a stock
    piece that is itself smaller than that."""
    return length >= min(rules.least_offcut, stock.length) and width >= min(rules.least_offcut, stock.width)


def frozen(root: Room, bed: Bed, wants: tuple[Want, ...], rules: Rules) -> Node:
    """The tree of one bed, seen from the raw stock piece: its first cuts are the trims of the reference side."""
    mark_holders(root)
    node = _Freezer(bed, wants, rules).node(root, bed.beyond_x, bed.beyond_y)
    stock = bed.stock
    if bed.x:
        whole = Rect(0, bed.y, stock.length, stock.width - bed.y)
        node = _trimmed(whole, Axis.ACROSS, bed.x, rules.kerf, node)
    if bed.y:
        node = _trimmed(Rect(0, 0, stock.length, stock.width), Axis.ALONG, bed.y, rules.kerf, node)
    return node


def _trimmed(piece: Rect, axis: Axis, depth: int, kerf: int, rest: Node) -> Cut:
    """The cut that takes `depth` off the reference side, its kerf included."""
    position = max(0, depth - kerf)
    low = None
    if position:
        across = axis is Axis.ACROSS
        low = Waste(Rect(piece.x, piece.y, *((position, piece.width) if across else (piece.length, position))))
    return Cut(piece, axis, position, depth - position, low, rest, Sized.NONE)


@dataclass(frozen=True, slots=True)
class _Freezer:
    bed: Bed
    wants: tuple[Want, ...]
    rules: Rules

    def node(self, room: Room, beyond_x: int, beyond_y: int) -> Node:
        """The tree of a room that reaches `beyond` over its usable size, into the far trims.

        Goes down the high sides in a loop: a board with hundreds of slats is a chain of hundreds of cuts.
        """
        chain: list[Room] = []
        here: Room | None = room
        while here is not None and here.position >= 0 and here.holds:
            chain.append(here)
            here = here.high
        if here is None:  # the blade left nothing behind the last cut
            node: Node = self._cut(chain.pop(), beyond_x, beyond_y, None)
        else:
            node = self._leaf(here, beyond_x, beyond_y)
        for cut_room in reversed(chain):
            node = self._cut(cut_room, beyond_x, beyond_y, node)
        return node

    def _cut(self, room: Room, beyond_x: int, beyond_y: int, high: Node | None) -> Cut:
        piece = Rect(room.x, room.y, room.length + beyond_x, room.width + beyond_y)
        axis = Axis.ACROSS if room.across else Axis.ALONG
        span = piece.length if room.across else piece.width
        kerf = room.kerf
        if room.high is None:  # the blade ran out of the usable zone; in the raw piece there may be more wood
            kerf = min(self.rules.kerf, span - room.position)
            high = _waste(piece, axis, room.position + kerf)
        low = None
        if room.low is not None:
            low = self.node(room.low, *((0, beyond_y) if room.across else (beyond_x, 0)))
        return Cut(piece, axis, room.position, kerf, low, high, room.sized)

    def _leaf(self, room: Room, beyond_x: int, beyond_y: int) -> Node:
        piece = Rect(room.x, room.y, room.length + beyond_x, room.width + beyond_y)
        if room.part is None:
            keep = useful(room.length, room.width, self.bed.stock, self.rules)
            return Offcut(piece) if keep else Waste(piece)
        return self._part(room, room.part, piece)

    def _part(self, room: Room, what: tuple[int, int, bool], piece: Rect) -> Node:
        """The part, behind the cuts that take the far trims off it and, in the rough method, its final cuts."""
        number, copy, turned = what
        want = self.wants[number]
        if piece.length > room.length:
            inner = self._part(room, what, Rect(piece.x, piece.y, room.length, piece.width))
            return _behind(piece, Axis.ACROSS, room.length, self.rules.kerf, inner)
        if piece.width > room.width:
            inner = self._part(room, what, Rect(piece.x, piece.y, piece.length, room.width))
            return _behind(piece, Axis.ALONG, room.width, self.rules.kerf, inner)
        if self.rules.allowance:
            return self._final(piece, want, copy, turned)
        return Part(piece, want.id, copy, turned)

    def _final(self, piece: Rect, want: Want, copy: int, turned: bool) -> Node:
        """Square one end of a rough blank, then cut it to its length."""
        first = self.rules.allowance // 2
        if not turned:  # the blank at the raw end gives its allowance to the trim
            first = max(first, self.bed.stock.trim_ends[0] - piece.x)
        axis = Axis.ALONG if turned else Axis.ACROSS
        rest = _beyond(piece, axis, first)
        span = rest.width if turned else rest.length
        if span == want.length:  # the whole allowance went with the raw end; the far end is a cut face already
            return _squared(piece, axis, first, self.rules.kerf, Part(rest, want.id, copy, turned), Sized.HIGH)
        size = (rest.length, want.length) if turned else (want.length, rest.width)
        part = Part(Rect(rest.x, rest.y, *size), want.id, copy, turned)
        final = _behind(rest, axis, want.length, self.rules.kerf, part)
        return _squared(piece, axis, first, self.rules.kerf, final, Sized.NONE) if first else final


def _squared(piece: Rect, axis: Axis, depth: int, kerf: int, rest: Node, sized: Sized) -> Cut:
    cut = _trimmed(piece, axis, depth, kerf, rest)
    return Cut(cut.piece, cut.axis, cut.position, cut.kerf, cut.low, cut.high, sized)


def _behind(piece: Rect, axis: Axis, position: int, kerf: int, low: Node) -> Cut:
    """The cut that gives a part its size; what lies behind it is waste, if the blade leaves any."""
    span = piece.length if axis is Axis.ACROSS else piece.width
    eaten = min(kerf, span - position)
    return Cut(piece, axis, position, eaten, low, _waste(piece, axis, position + eaten))


def _beyond(piece: Rect, axis: Axis, start: int) -> Rect:
    if axis is Axis.ACROSS:
        return Rect(piece.x + start, piece.y, piece.length - start, piece.width)
    return Rect(piece.x, piece.y + start, piece.length, piece.width - start)


def _waste(piece: Rect, axis: Axis, start: int) -> Leaf | None:
    """What lies beyond `start`, or nothing."""
    span = piece.length if axis is Axis.ACROSS else piece.width
    return Waste(_beyond(piece, axis, start)) if start < span else None
