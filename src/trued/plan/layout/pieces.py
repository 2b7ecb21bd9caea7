"""What a layout is made from: stock, wanted parts and the rules of cutting, in whole tenths of a nanometre.

One millimetre is 10,000,000 tenths of a nanometre, so 1/128 in (1,984,375) and 0.0001 in (25,400) are both whole and
no layout ever rounds. A size that is not whole is rounded up for parts, kerf, trims and defects, and down for stock:
see `units_up` and `units_down`.

Places: x runs along the length of the stock from its reference end, y along its width from its reference edge.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from trued.errors import Faults

UNITS_PER_MM = 10_000_000
"""Tenths of a nanometre in a millimetre."""


def units_up(size_mm: Fraction) -> int:
    """An exact size in mm as whole units, rounded up: for parts, kerf, trims and defects."""
    return -((-size_mm * UNITS_PER_MM) // 1)


def units_down(size_mm: Fraction) -> int:
    """An exact size in mm as whole units, rounded down: for stock."""
    return (size_mm * UNITS_PER_MM) // 1


def to_mm(units: int) -> float:
    """Whole units as millimetres, for showing."""
    return units / UNITS_PER_MM


class StockGrain(StrEnum):
    """Which way the grain of a stock piece runs."""

    LENGTH = "length"
    WIDTH = "width"
    NONE = "none"


class PartGrain(StrEnum):
    """Which way the grain must run in a part. `any` lets the part be turned."""

    LENGTH = "length"
    WIDTH = "width"
    ANY = "any"


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle in the stock's own coordinates, in units. Half open: it holds its near edges, not its far ones."""

    x: int
    y: int
    length: int
    width: int

    def __post_init__(self) -> None:
        if self.length <= 0 or self.width <= 0 or self.x < 0 or self.y < 0:
            raise ValueError(f"a rectangle needs a place from 0 on and two sizes above 0, not {self!r}")

    @property
    def end_x(self) -> int:
        """Where it ends along the stock."""
        return self.x + self.length

    @property
    def end_y(self) -> int:
        """Where it ends across the stock."""
        return self.y + self.width

    @property
    def area(self) -> int:
        """Length times width, in square units."""
        return self.length * self.width

    def overlaps(self, other: "Rect") -> bool:
        """Whether the two share more than an edge."""
        return self.x < other.end_x and other.x < self.end_x and self.y < other.end_y and other.y < self.end_y


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of stock piece: boards, sheets or an offcut, all alike.

    length, width:  as measured, in units.
    have:           how many there are; None is as many as are needed.
    price:          of one piece; None where no price is known. An offcut costs nothing.
    trim_ends:      not to be used at the reference end and the far end. At the reference end the kerf lies in the trim;
                    at the far end the kerf comes first and the trim falls off whole (docs/layout.md).
    trim_edges:     the same at the reference edge and the far edge.
    defects:        places that no part may hold.
    """

    id: str
    length: int
    width: int
    have: int | None = None
    price: float | None = None
    trim_ends: tuple[int, int] = (0, 0)
    trim_edges: tuple[int, int] = (0, 0)
    material: str = ""
    thickness: int = 0
    grain: StockGrain = StockGrain.LENGTH
    offcut: bool = False
    defects: tuple[Rect, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "grain", StockGrain(self.grain))
        faults = Faults()
        _above_zero(faults, f"stock {self.id}", length=self.length, width=self.width)
        _not_below_zero(faults, f"stock {self.id}", thickness=self.thickness)
        for name, size, trims in (("length", self.length, self.trim_ends), ("width", self.width, self.trim_edges)):
            if min(trims) < 0 or sum(trims) >= size:
                faults.add(f"stock {self.id}, trim", "", f"The trims must be 0 or more and leave some of the {name}.")
        if self.have is not None and self.have < 0:
            faults.add(f"stock {self.id}, have", str(self.have), "The number at hand must be 0 or more.")
        if self.price is not None and not 0 <= self.price < float("inf"):
            faults.add(f"stock {self.id}, price", str(self.price), "A price must be a number from 0 on.")
        if any(mark.end_x > self.length or mark.end_y > self.width for mark in self.defects):
            faults.add(f"stock {self.id}, defects", "", "A defect must lie on the piece.")
        faults.raise_if_any()

    @property
    def area(self) -> int:
        """Length times width, in square units."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Want:
    """A part that is wanted, in one or more copies.

    length, width:  of the finished part, in units.
    grain:          `length` keeps the grain along its length, `width` across it, `any` lets it be turned.
    together:       parts and copies with the same word come out of one stock piece where that is possible.
    """

    id: str
    copies: int
    length: int
    width: int
    grain: PartGrain = PartGrain.LENGTH
    material: str = ""
    thickness: int = 0
    together: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "grain", PartGrain(self.grain))
        faults = Faults()
        _above_zero(faults, f"part {self.id}", length=self.length, width=self.width, copies=self.copies)
        _not_below_zero(faults, f"part {self.id}", thickness=self.thickness)
        faults.raise_if_any()

    @property
    def area(self) -> int:
        """Of one copy, in square units."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Rules:
    """How the cutting is done, and how long to look.

    kerf:          width of wood that one cut turns to dust, in units.
    least_offcut:  an offcut is useful to the shop when both its sides are at least this, in units.
    allowance:     extra length of each blank that is rough-cut first and cut to its length afterwards; 0 cuts the
                   finished length at once (the continuous method).
    remainder:     whether the last piece that falls may be a finished part with no cut of its own. Its size is then
                   what the stock leaves after all other cuts and kerfs, so this is False in a workshop.
    seed, effort:  the search is repeatable for the two together. `effort` counts layouts tried.
    time_up:       asked now and then; true cuts the search short. None never does.
    """

    kerf: int
    least_offcut: int = 3_048_000_000  # 12 in, common practice
    allowance: int = 0
    remainder: bool = False
    seed: int = 1
    effort: int = 5000
    time_up: Callable[[], bool] | None = None

    def __post_init__(self) -> None:
        faults = Faults()
        _not_below_zero(faults, "rules", kerf=self.kerf, allowance=self.allowance, seed=self.seed)
        _above_zero(faults, "rules", effort=self.effort)
        _not_below_zero(faults, "rules", least_offcut=self.least_offcut)
        faults.raise_if_any()


def may_lie(want: Want, stock: Stock, *, turned: bool) -> bool:
    """Whether the grain lets a part lie on this stock, straight or turned by a quarter."""
    if want.grain is PartGrain.ANY or stock.grain is StockGrain.NONE:
        return True
    return (want.grain.value == stock.grain.value) is not turned


def same_wood(want: Want, stock: Stock) -> bool:
    """Whether the stock is of the material and thickness that the part needs."""
    return want.material == stock.material and want.thickness == stock.thickness


def _above_zero(faults: Faults, place: str, **sizes: int) -> None:
    for name, size in sizes.items():
        if size <= 0:
            faults.add(f"{place}, {name}", str(size), f"The {name} must be above 0.")


def _not_below_zero(faults: Faults, place: str, **sizes: int) -> None:
    for name, size in sizes.items():
        if size < 0:
            faults.add(
                f"{place}, {name.replace('_', ' ')}", str(size), f"The {name.replace('_', ' ')} must be 0 or more."
            )
