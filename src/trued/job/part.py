"""A part: what is wanted, in how many copies, and how exactly."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from trued.errors import Faults
from trued.job.expression.naming import fault_of_name
from trued.job.expression.tree import Side
from trued.job.size import Size


class Grain(StrEnum):
    """Which way the grain must run in a part. `any` lets the part be turned."""

    LENGTH = "length"
    WIDTH = "width"
    ANY = "any"


MOST_COPIES = 1000


@dataclass(frozen=True, slots=True)
class Part:
    """One part in one or more copies.

    length, width, thickness: finished sizes, or None where one is held back until something has been measured.
    tolerance: how far each cut size may be off, either way.
    alike:     how far the copies may differ from one another.
    together:  parts with the same word come from one board where that can be, in sequence, and at one setting.
    show:      whether its face is seen.
    """

    id: str
    length: Size | None
    width: Size | None
    thickness: Size | None
    quantity: int = 1
    material: str = ""
    grain: Grain = Grain.LENGTH
    tolerance: Size | None = None
    alike: Size | None = None
    together: str = ""
    show: bool = False

    def __post_init__(self) -> None:
        faults = Faults()
        if said := fault_of_name(self.id):
            faults.add("id", self.id, said)
        if not 1 <= self.quantity <= MOST_COPIES:
            faults.add("quantity", str(self.quantity), f"The quantity is a whole number from 1 to {MOST_COPIES}.")
        faults.raise_if_any()

    @property
    def held_back(self) -> bool:
        """Whether a size is still to be measured: such a part is not cut yet."""
        return None in (self.length, self.width, self.thickness)

    @property
    def copies(self) -> range:
        """The numbers of its copies, from 1."""
        return range(1, self.quantity + 1)

    def size(self, side: Side) -> Size | None:
        """One of its three sizes."""
        match side:
            case Side.LENGTH:
                return self.length
            case Side.WIDTH:
                return self.width
            case Side.THICKNESS:
                return self.thickness

    def sizes(self) -> Iterator[tuple[Side, Size | None]]:
        """Its three sizes with their names."""
        for side in Side:
            yield side, self.size(side)
