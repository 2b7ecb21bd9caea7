"""A fit: what the finished piece must have, as an expression with its limits."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from trued.errors import Faults
from trued.job.tree import Node

KINDS = ("clearance", "gap", "flush", "alike", "diagonals", "other")
"""What a fit may be called; the word is for people, the sum is the same for all."""


@dataclass(frozen=True, slots=True)
class FitSpec:
    """`of` lies between `at_least` and `at_most` (exact mm, of either sign; None leaves that side open)."""

    id: str
    of: Node
    text: str
    at_least_mm: Fraction | None
    at_most_mm: Fraction | None
    kind: str = "clearance"

    def __post_init__(self) -> None:
        faults = Faults()
        if not self.id.strip() or set(self.id) & set("=@:"):
            faults.add("id", self.id, "A fit needs an id without = @ and : in it.")
        if self.kind not in KINDS:
            faults.add("kind", self.kind, f"A fit is one of {', '.join(KINDS)}.")
        low, high = self.at_least_mm, self.at_most_mm
        if low is None and high is None:
            faults.add("at_least", "", "A fit needs at_least, at_most or both.")
        if low is not None and high is not None and low >= high:
            faults.add("at_most", "", "The most must be above the least.")
        faults.raise_if_any()
