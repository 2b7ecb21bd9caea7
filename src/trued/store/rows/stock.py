"""Boards, sheets and offcuts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from trued.store.rows.rules import Exact, exact, ids, needs, utc


@dataclass(frozen=True, slots=True)
class Size:
    """A length as typed, with its exact millimetres."""

    typed: str
    exact_mm: Exact

    def __post_init__(self) -> None:
        needs(self, typed=self.typed)
        exact(self, self.exact_mm)

    @property
    def mm(self) -> Fraction:
        """Millimetres, exactly."""
        return Fraction(*self.exact_mm)


@dataclass(frozen=True, slots=True)
class StockRow:
    """A board, sheet or offcut. `origin` says where it came from (bought, or the plan that left it)."""

    id: str
    material: str
    length: Size
    width: Size
    thickness: Size
    origin: str = ""

    def __post_init__(self) -> None:
        ids(self, id=self.id)
        needs(self, material=self.material)


@dataclass(frozen=True, slots=True)
class StockChangeRow:
    """More of a stock (`by` above 0) or less of it (below), and why: bought, used, left over, thrown away."""

    id: str
    stock: str
    what: str
    by: int
    at: datetime

    def __post_init__(self) -> None:
        ids(self, id=self.id, stock=self.stock)
        needs(self, what=self.what)
        utc(self, "at")
        if self.by == 0:
            raise ValueError("a change of stock adds or takes at least one")


@dataclass(frozen=True, slots=True)
class StockHeld:
    """A stock and how many of it there are."""

    stock: StockRow
    have: int
