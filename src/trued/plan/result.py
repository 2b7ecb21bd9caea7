"""What a layout comes to: the trees with their cost and bound, or why there is none."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from trued.plan.pieces import Rect, Stock, to_mm
from trued.plan.tree import Used

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
class TooMuch:
    """The parts outweigh all the stock at hand, on a scale that anyone can check.

    missing:  how many of which part were left over in the best try.
    short:    how much longer the one piece of stock would have to be, where that is known; stock: that piece.
    """

    scale: Scale
    need: int
    have: int
    missing: tuple[tuple[str, int], ...]
    short: int | None = None
    stock: str = ""

    proven = True

    def text(self, show: Show = in_mm) -> str:
        """What is short, and why that is certain."""
        miss = _miss(self.missing, self.short, self.stock, show, though=self.scale.name != "area")
        if self.scale.name == "pieces":
            return f"{miss} The stock holds at most {self.have} of the {self.need} pieces, however it is cut."
        share = f"{100 * self.need / self.have:.1f} % of what" if self.have else "more than"
        return f"{miss} Weighed by {self.scale.name}, the parts need {share} the stock can hold, kerfs counted."


@dataclass(frozen=True, slots=True)
class NotFound:
    """No layout was found.

    every_way:  true when every way of cutting was tried, so that there is none.
    missing:    how many of which part were left over in the best try.
    short:      how much longer the one piece of stock would have to be, where that is known; stock: that piece.
    """

    every_way: bool
    missing: tuple[tuple[str, int], ...]
    short: int | None = None
    stock: str = ""

    @property
    def proven(self) -> bool:
        """Whether it is certain that there is no layout."""
        return self.every_way

    def text(self, show: Show = in_mm) -> str:
        """What is short, and how certain that is."""
        miss = _miss(self.missing, self.short, self.stock, show, though=True)
        if self.every_way:
            return f"{miss} Every way of cutting was tried."
        return f"{miss} No layout was found by the search; the bound does not exclude one."


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


def _miss(missing: tuple[tuple[str, int], ...], short: int | None, stock: str, show: Show, *, though: bool) -> str:
    words = [f"one {want}" if count == 1 else f"{count} × {want}" for want, count in missing]
    lot = " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
    text = f"Short by {lot}, though the areas add up." if though else f"Short by {lot}."
    return text if short is None else f"{text} {stock} is short by {show(short)} of length."
