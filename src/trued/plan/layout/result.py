"""What a layout comes to: the trees with their cost and bound, or why there is none."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from trued.plan.layout.cut_tree import Used
from trued.plan.layout.pieces import Rect, Stock, to_mm

Show = Callable[[int], str]
"""How a size in units is written for the person."""


def in_mm(units: int) -> str:
    """A size in millimetres, to a hundredth."""
    return f"{to_mm(units):.2f} mm"


class Ended(StrEnum):
    """What ended the search."""

    PROVED = "proved"  # nothing cheaper is possible
    EFFORT = "effort"  # as many layouts were tried as was asked
    TIME = "time"  # the time was up


@dataclass(frozen=True, slots=True)
class Scale:
    """A proof that stock is not enough: every part weighs something, and no piece can hold more than its capacity.

    weights:     of one copy of each want, by id.
    capacities:  the most that one piece of each stock can hold in all, by id, however it is cut.
    name:        how the weights were found.
    """

    name: str
    weights: tuple[tuple[str, int], ...]
    capacities: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Bound:
    """No layout of these parts costs less than this.

    scale:      excludes the dearest choice of stock that is cheaper; None where there is nothing to exclude.
    every_way:  every way of cutting cheaper stock was tried instead.
    """

    cost: float
    scale: Scale | None
    every_way: bool = False


@dataclass(frozen=True, slots=True)
class Layout:
    """Where every part comes from.

    used:          the stock pieces that are cut into, with their trees.
    cost, unit:    the sum of the prices ("price"), or the area of the pieces in m² ("m2") where prices are not known.
    bound:         no layout costs less.
    bounds:        the scale behind it, for every material and thickness.
    offcut_value:  of the offcuts useful to the shop: the sum of (area in m²)^1.5, so that one large counts above two
                   small ones.
    settings:      how many distinct sizes a stop or fence is set to.
    split:         the words of `together` whose parts could not come from one piece.
    tried:         layouts looked at.
    """

    used: tuple[Used, ...]
    cost: float
    unit: str
    bound: float
    bounds: tuple[Bound, ...]
    offcut_value: float
    settings: int
    split: tuple[str, ...]
    ended: Ended
    tried: int

    @property
    def gap(self) -> float:
        """How far the cost may be above the least possible, as a share of the cost."""
        return (self.cost - self.bound) / self.cost if self.cost > 0 else 0.0


@dataclass(frozen=True, slots=True)
class SoFar:
    """The best layout of one wood while the search goes on.

    cost, bound, unit:  as of a layout. pieces: of stock that are cut into.
    """

    material: str
    cost: float
    bound: float
    unit: str
    pieces: int


@dataclass(frozen=True, slots=True)
class TooLarge:
    """A part that no piece of stock can hold.

    rooms: the largest rectangles free of trims and defects in each stock of its wood, by stock id.
    """

    want: str
    length: int
    width: int
    rooms: tuple[tuple[str, Rect], ...]

    proven = True

    def text(self, show: Show = in_mm) -> str:
        """One sentence for the person."""
        if not self.rooms:
            return f"There is no stock of the material and thickness of {self.want}."
        stock, room = max(self.rooms, key=lambda pair: pair[1].area)
        size = f"{show(self.length)} × {show(self.width)}"
        free = f"{show(room.length)} × {show(room.width)}"
        return f"{self.want} ({size}) fits on no piece of stock; the largest free piece is {free}, on {stock}."


@dataclass(frozen=True, slots=True)
class Miss:
    """How near the best try came.

    missing:  what was left over: want, copies, length, width.
    boards:   lengths alone decide, because no two parts can lie side by side.
    sums:     the plain sum (of lengths or areas, with kerfs) would say that it fits.
    short:    how much longer the one piece of stock would have to be, where that is known; stock: that piece.
    """

    missing: tuple[tuple[str, int, int, int], ...]
    boards: bool
    sums: bool
    short: int | None = None
    stock: str = ""

    def text(self, show: Show) -> str:
        """One or two sentences."""
        words = [self._words(*part, show=show) for part in self.missing]
        lot = " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
        though = f", though the {'lengths' if self.boards else 'areas'} add up" if self.sums else ""
        text = f"Short by {lot}{though}." if lot else "Not enough stock."
        return text if self.short is None else f"{text} {self.stock} is short by {show(self.short)} of length."

    def _words(self, want: str, copies: int, length: int, width: int, *, show: Show) -> str:
        size = show(length) if self.boards else f"{show(length)} × {show(width)}"
        return f"{'one' if copies == 1 else copies} {want} ({size})"


@dataclass(frozen=True, slots=True)
class TooMuch:
    """The parts outweigh all the stock at hand, on a scale that anyone can check."""

    scale: Scale
    need: int
    have: int
    miss: Miss

    proven = True

    def text(self, show: Show = in_mm) -> str:
        """What is short, and why that is certain."""
        miss = self.miss.text(show)
        if self.scale.name == "pieces":
            return f"{miss} The stock holds at most {self.have} of the {self.need} pieces, however it is cut."
        share = f"{100 * self.need / self.have:.1f} % of what" if self.have else "more than"
        return f"{miss} Weighed by {self.scale.name}, the parts need {share} the stock can hold, kerfs counted."


@dataclass(frozen=True, slots=True)
class NotFound:
    """No layout was found; with `every_way`, because every way of cutting was tried and there is none."""

    every_way: bool
    miss: Miss

    @property
    def proven(self) -> bool:
        """Whether it is certain that there is no layout."""
        return self.every_way

    def text(self, show: Show = in_mm) -> str:
        """What is short, and how certain that is."""
        if self.every_way:
            return f"{self.miss.text(show)} Every way of cutting was tried."
        return f"{self.miss.text(show)} No layout was found by the search; the bound does not exclude one."


Reason = TooLarge | TooMuch | NotFound


@dataclass(frozen=True, slots=True)
class NoLayout:
    """There is no layout, or none was found; the reason says which."""

    reason: Reason
    stocks: tuple[Stock, ...]
    tried: int = 0

    def text(self, show: Show = in_mm) -> str:
        """The reason in words."""
        return self.reason.text(show)
