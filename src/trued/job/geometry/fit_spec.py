"""A fit: what the finished piece must have, as an expression with its limits."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from trued.errors import Faults
from trued.job.expression.tree import Name, Node, PartSize, uses
from trued.job.geometry.fit_geometry import Geometry

KINDS = (
    *("clearance", "gap", "flush", "alike", "diagonals", "dado", "mitres", "face frame", "lid", "drawer", "door"),
    *("glue-up", "row", "other"),
)
"""What a fit may be. With a sum of the person's own (`of`) the word is for people, and the sum is the same for all."""


@dataclass(frozen=True, slots=True)
class FitSpec:
    """`of` lies between `at_least` and `at_most` (exact mm, of either sign; None leaves that side open).

    shape: the geometry of a ready-made fit; `of` then says only what it is meant to come to. None: the sum itself.
    """

    id: str
    of: Node
    text: str
    at_least_mm: Fraction | None
    at_most_mm: Fraction | None
    kind: str = "clearance"
    shape: Geometry | None = None

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
            faults.add("at_most", "", "The most must be above the least; are the two the wrong way round?")
        faults.raise_if_any()

    @property
    def uses(self) -> tuple[Name | PartSize, ...]:
        """The names and part sizes that it rests on, each once."""
        nodes = (self.of,) if self.shape is None else self.shape.nodes
        return tuple(dict.fromkeys(use for node in nodes for use in uses(node)))
