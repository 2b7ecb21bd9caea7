"""One line of stock: boards, sheets or offcuts, all alike."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from trued.errors import Faults
from trued.job.size import Size


class StockGrain(StrEnum):
    """Which way the grain of a board or sheet runs."""

    LENGTH = "length"
    WIDTH = "width"
    NONE = "none"


MOST_PIECES = 10_000


@dataclass(frozen=True, slots=True)
class Defect:
    """A rectangle that no part may hold: its near corner, from the reference end and edge, and its two sizes."""

    x_mm: Fraction
    y_mm: Fraction
    length_mm: Fraction
    width_mm: Fraction

    def __post_init__(self) -> None:
        if min(self.x_mm, self.y_mm) < 0 or min(self.length_mm, self.width_mm) <= 0:
            raise ValueError("a defect lies at 0 or beyond and has two sizes above 0")


@dataclass(frozen=True, slots=True)
class StockLine:
    """Stock at hand or to be bought.

    have:       how many pieces there are; None is as many as are needed.
    price:      of one piece; None where no price is known.
    trim_ends, trim_edges: what is not to be used at (reference, far) ends and edges, exact mm, 0 or more.
    offcut:     left over from other work: it costs nothing and is used first.
    """

    id: str
    length: Size
    width: Size
    thickness: Size
    material: str = ""
    have: int | None = None
    price: float | None = None
    trim_ends_mm: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))
    trim_edges_mm: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))
    grain: StockGrain = StockGrain.LENGTH
    defects: tuple[Defect, ...] = ()
    offcut: bool = False

    def __post_init__(self) -> None:
        faults = Faults()
        if not self.id.strip():
            faults.add("id", self.id, "Every line of stock needs an id.")
        if self.have is not None and not 0 <= self.have <= MOST_PIECES:
            faults.add("have", str(self.have), f"Write how many pieces there are: 0 to {MOST_PIECES}.")
        if self.price is not None and not (math.isfinite(self.price) and self.price >= 0):
            faults.add("price", str(self.price), "A price is a number of 0 or more.")
        self._judge_trims(faults)
        for number, defect in enumerate(self.defects, 1):
            over_x = defect.x_mm + defect.length_mm > self.length.exact_mm
            if over_x or defect.y_mm + defect.width_mm > self.width.exact_mm:
                faults.add(f"defects, {number}", "", "This defect reaches over the piece; check its place and size.")
        faults.raise_if_any()

    def _judge_trims(self, faults: Faults) -> None:
        for name, size, trims in (
            ("trim_ends", self.length, self.trim_ends_mm),
            ("trim_edges", self.width, self.trim_edges_mm),
        ):
            if min(trims) < 0:
                faults.add(name, "", "A trim is 0 or more.")
            elif sum(trims) >= size.exact_mm:
                faults.add(name, "", "The trims leave nothing of the piece; check them.")
