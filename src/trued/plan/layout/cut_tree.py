"""A cut tree: how one stock piece comes apart, cut by cut, edge to edge.

An inner node is one cut through a whole piece; a leaf is what is left lying: a part, an offcut worth keeping, or waste.
A cut across (a crosscut) parts the piece along x, a cut along (a rip) parts it along y. The piece on the reference side
of the cut is `low`, the other is `high`; where the blade runs partly beside the wood, that side is None.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from trued.plan.layout.pieces import Rect, Stock


class Axis(StrEnum):
    """Which way a cut runs."""

    ACROSS = "across"
    ALONG = "along"


class Sized(StrEnum):
    """Which piece gets its finished size from this cut. `none`: a trim, or a cut that frees a piece."""

    LOW = "low"
    HIGH = "high"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Part:
    """A leaf that is a wanted part. Turned: its length lies across the stock."""

    piece: Rect
    want: str
    copy: int
    turned: bool = False

    @property
    def length(self) -> int:
        """Along the part's own length, in units."""
        return self.piece.width if self.turned else self.piece.length

    @property
    def width(self) -> int:
        """Along the part's own width, in units."""
        return self.piece.length if self.turned else self.piece.width


@dataclass(frozen=True, slots=True)
class Offcut:
    """A leaf worth keeping."""

    piece: Rect


@dataclass(frozen=True, slots=True)
class Waste:
    """A leaf for the stove."""

    piece: Rect


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut through a whole piece.

    position:  size of the low piece along the cut axis, that is, from the reference side of this piece to the blade.
    kerf:      wood turned to dust: the blade's kerf, or less where the blade runs partly beside the wood.
    sized:     which side gets a finished size of a part here. For `low` the stop or fence stands at `position`.
    """

    piece: Rect
    axis: Axis
    position: int
    kerf: int
    low: "Node | None"
    high: "Node | None"
    sized: Sized = Sized.LOW

    @property
    def setting(self) -> int | None:
        """The size that the stop or fence is set to, in units; None for a trim or a freeing cut."""
        if self.sized is Sized.LOW:
            return self.position
        if self.sized is Sized.HIGH:
            return self.span - self.position - self.kerf
        return None

    @property
    def span(self) -> int:
        """Size of the piece along the cut axis, in units."""
        return self.piece.length if self.axis is Axis.ACROSS else self.piece.width

    @property
    def run(self) -> int:
        """How far the blade travels through the wood, in units."""
        return self.piece.width if self.axis is Axis.ACROSS else self.piece.length


Leaf = Part | Offcut | Waste
Node = Cut | Leaf


@dataclass(frozen=True, slots=True)
class Used:
    """One stock piece that is cut into: which kind, which copy of it (from 1), and its tree."""

    stock: Stock
    copy: int
    tree: Node


def walk(node: Node) -> Iterator[Node]:
    """Every node, parents before children, the low side first."""
    waiting: list[Node] = [node]
    while waiting:
        here = waiting.pop()
        yield here
        if isinstance(here, Cut):
            waiting.extend(child for child in (here.high, here.low) if child is not None)


def cuts(node: Node) -> Iterator[Cut]:
    """Every cut, parents before children."""
    return (here for here in walk(node) if isinstance(here, Cut))


def parts(node: Node) -> Iterator[Part]:
    """Every part, in the order of the tree."""
    return (here for here in walk(node) if isinstance(here, Part))


def offcuts(node: Node) -> Iterator[Offcut]:
    """Every offcut worth keeping, in the order of the tree."""
    return (here for here in walk(node) if isinstance(here, Offcut))
