"""Free pieces while a layout is being looked for, and the step from them to a cut tree.

A `Bed` is the part of a stock piece that parts may use. A `Room` is one piece of it during the search; once it is cut
or taken it stays as a node, so that the rooms of a bed are its tree. Rooms are mutable, live in the search only, and
never leave it: `search_freeze` turns them into the tree of `trued.plan.layout.cut_tree`.
"""

from dataclasses import dataclass

from trued.plan.layout.cut_tree import Sized
from trued.plan.layout.pieces import Rect, Rules, Stock

REST, FAR, SET = 0, 1, 2
"""How far a part may fill a room along one axis.

REST  the size is what other cuts left over: a part must be smaller and get its own cut.
FAR   the room ends at the far trim: a part may fill it, because the trim is cut off behind it.
SET   the size was set by a cut, or is the stock's own: a part of that size needs no cut.
"""


@dataclass(frozen=True, slots=True)
class Bed:
    """The usable rectangle of one stock piece, and what its four sides allow."""

    stock: Stock
    x: int
    y: int
    length: int
    width: int
    state_x: int
    state_y: int
    beyond_x: int
    beyond_y: int
    defects: tuple[Rect, ...]

    @property
    def area(self) -> int:
        """Of the usable rectangle."""
        return self.length * self.width


def bed_of(stock: Stock, rules: Rules, *, straight_only: bool) -> Bed | None:
    """The usable rectangle of a stock piece; None when the trims leave nothing.

    In the rough method the first blank's own allowance takes the reference end's trim, if no part lies turned.
    """
    skip = min(stock.trim_ends[0], rules.allowance) if straight_only else 0
    x, y = stock.trim_ends[0] - skip, stock.trim_edges[0]
    beyond_x = stock.trim_ends[1] + rules.kerf if stock.trim_ends[1] else 0
    beyond_y = stock.trim_edges[1] + rules.kerf if stock.trim_edges[1] else 0
    length, width = stock.length - x - beyond_x, stock.width - y - beyond_y
    if length <= 0 or width <= 0:
        return None
    state_x = _end_state(x, beyond_x, rules)
    state_y = _end_state(y, beyond_y, rules)
    return Bed(stock, x, y, length, width, state_x, state_y, beyond_x, beyond_y, stock.defects)


def _end_state(trim: int, beyond: int, rules: Rules) -> int:
    if beyond:
        return FAR
    return SET if rules.remainder or not trim else REST


class Room:
    """A piece of a bed, in stock coordinates: free, taken by a part, or cut in two."""

    __slots__ = (
        *("x", "y", "length", "width", "state_x", "state_y", "bin", "defects"),
        *("part", "across", "position", "kerf", "sized", "low", "high", "holds"),
    )

    def __init__(
        self, box: tuple[int, int, int, int], states: tuple[int, int], number: int, defects: tuple[Rect, ...]
    ) -> None:
        self.x, self.y, self.length, self.width = box
        self.state_x, self.state_y = states
        self.bin = number
        self.defects = tuple(mark for mark in defects if self._holds_some_of(mark)) if defects else ()
        self.part: tuple[int, int, bool] | None = None  # number of the want, copy, turned
        self.across = False  # which way this room is cut
        self.position = -1
        self.kerf = 0
        self.sized = Sized.NONE
        self.holds = False  # a part lies somewhere in it; set by `mark_holders`
        self.low: Room | None = None
        self.high: Room | None = None

    def _holds_some_of(self, mark: Rect) -> bool:
        return (
            mark.x < self.x + self.length
            and self.x < mark.end_x
            and mark.y < self.y + self.width
            and self.y < mark.end_y
        )

    def in_the_way(self, length: int, width: int) -> tuple[Rect, ...]:
        """The defects that a part at the reference corner would hold."""
        end_x, end_y = self.x + length, self.y + width
        return tuple(mark for mark in self.defects if mark.x < end_x and mark.y < end_y)

    def cut(self, position: int, *, across: bool, kerf: int, rest: int) -> "Room":
        """Cut a part's size off the reference side and give that piece.

        `rest` is the state of a remainder: REST, or SET where a part may be what remains.
        """
        span = self.length if across else self.width
        self.low = self._child(0, position, SET, across)
        self._split(position, min(kerf, span - position), across, Sized.LOW, rest)
        return self.low

    def shed(self, end: int, *, across: bool, kerf: int, rest: int) -> "Room":
        """Free what lies beyond `end` (a place on the stock) and give it; the kerf before it may swallow a defect."""
        depth = end - (self.x if across else self.y)
        position = max(0, depth - kerf)
        if position:
            self.low = self._child(0, position, rest, across)
        high = self._split(position, depth - position, across, Sized.NONE, rest)
        if high is None:
            raise ValueError("nothing lies beyond the far side of a piece")
        return high

    def _split(self, position: int, kerf: int, across: bool, sized: Sized, rest: int) -> "Room | None":
        self.across, self.position, self.kerf, self.sized = across, position, kerf, sized
        state = self.state_x if across else self.state_y
        high = FAR if state == FAR else rest
        left = (self.length if across else self.width) - position - kerf
        if left:
            self.high = self._child(position + kerf, left, high, across)
        return self.high

    def _child(self, start: int, size: int, state: int, across: bool) -> "Room":
        if across:
            box, states = (self.x + start, self.y, size, self.width), (state, self.state_y)
        else:
            box, states = (self.x, self.y + start, self.length, size), (self.state_x, state)
        return Room(box, states, self.bin, self.defects)


def open_bed(bed: Bed, number: int) -> Room:
    """The whole bed as one free room."""
    return Room((bed.x, bed.y, bed.length, bed.width), (bed.state_x, bed.state_y), number, bed.defects)


def mark_holders(root: Room) -> None:
    """Note in every room whether a part lies in it."""
    order = [root]
    for here in order:  # grows while it is read: parents before children
        order.extend(child for child in (here.low, here.high) if child is not None)
    for here in reversed(order):
        low, high = here.low, here.high
        here.holds = here.part is not None or bool(low and low.holds) or bool(high and high.holds)
