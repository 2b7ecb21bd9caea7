"""A size of a part or of stock: exact, with the text that it came from."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Self

from trued.errors import InputRefused
from trued.job.expression.tree import Constant, Node
from trued.units import MM_PER_INCH, Unit, read_length


@dataclass(frozen=True, slots=True)
class Size:
    """A length above 0 in exact millimetres.

    text: as it was typed; of: the expression it was reckoned from.
    """

    exact_mm: Fraction
    text: str = ""
    of: Node | None = field(default=None, repr=False)

    def __post_init__(self) -> None:
        if self.exact_mm <= 0:
            raise InputRefused.of("", self.text, f"A size must be above 0, and this comes to {_shown(self.exact_mm)}.")
        if not self.text:
            object.__setattr__(self, "text", f"{float(self.exact_mm):g}mm")
        if self.of is None:
            object.__setattr__(self, "of", Constant(self.exact_mm))

    @classmethod
    def typed(cls, text: str, unit: Unit = "in") -> Self:
        """The size of one length as a person types it."""
        return cls(read_length(text, unit).exact_mm, text)

    @property
    def mm(self) -> float:
        """Millimetres, rounded once to a float."""
        return float(self.exact_mm)

    @property
    def node(self) -> Node:
        """The expression it was reckoned from."""
        return Constant(self.exact_mm) if self.of is None else self.of


def _shown(exact_mm: Fraction) -> str:
    return f"{float(exact_mm / MM_PER_INCH):.6g} in ({float(exact_mm):.6g} mm)"
