"""What a fit is made of: the sizes and errors that go into it, and the places where it must hold.

A fit holds when every one of its places lies within its limits: both edges of a shelf, all corners of a frame. No
largest or smallest is taken inside a geometry, so each place is smooth and has exact derivatives; which of them is the
worst is a question for the draws.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, Protocol, TypeVar

from trued.job.expression.tree import Node, PartSize
from trued.job.geometry.number import Number
from trued.job.geometry.unmeasured_errors import TypeBError
from trued.measure.estimate import ErrorSource, Shape, UncertainValue
from trued.measure.instrument import Instrument

Q = TypeVar("Q", bound=Number)


class LimitSide(StrEnum):
    """Which of the limits a place is held against."""

    BOTH = "both"
    LEAST = "least"
    MOST = "most"


@dataclass(frozen=True, slots=True)
class LimitPlace(Generic[Q]):
    """One place of a fit: what it comes to there, mm, in people's words where."""

    value: Q
    name: str = ""
    against: LimitSide = LimitSide.BOTH


class Sizes(Protocol):
    """What a geometry asks of the error budget."""

    @property
    def untaught(self) -> TypeBError: ...
    @property
    def own(self) -> tuple[Instrument, ...]: ...
    def actual(self, node: Node, copies: Mapping[str, int] | None = None, *, ends: bool = True) -> UncertainValue: ...
    def lean(self, part: str, copy: int, end: int, angle: str = "0") -> UncertainValue: ...
    def tilt(self, part: str, copy: int, end: int) -> UncertainValue: ...
    def blade_tilt(self) -> UncertainValue: ...
    def joint(self, node: Node, copies: Mapping[str, int], scope: str) -> UncertainValue: ...


@dataclass(frozen=True, slots=True)
class BuiltGeometry:
    """The copies that a fit looks at, as they will really come out. `fit` is the scope of the assembly's own errors."""

    budget: Sizes
    copies: Mapping[str, int]
    fit: str

    def size(self, node: Node, *, ends: bool = True) -> UncertainValue:
        """The actual size. ends: with what its ends are out of square; False where the geometry has them apart."""
        return self.budget.actual(node, self.copies, ends=ends)

    def lean(self, of: PartSize, end: int, angle: str = "0") -> UncertainValue:
        """How far end 1 or 2 of a part leans outward from its reference edge to its other edge, rad."""
        return self.budget.lean(of.part, self._copy(of), end, angle)

    def tilt(self, of: PartSize, end: int) -> UncertainValue:
        """The same from one face to the other, from the blade tilt."""
        return self.budget.tilt(of.part, self._copy(of), end)

    def joint(self, node: Node) -> UncertainValue:
        """The size of a joint with the error of cutting it."""
        return self.budget.joint(node, self.copies, self.fit)

    def own(self, name: str, label: str, u: float, shape: Shape = Shape.NORMAL) -> UncertainValue:
        """An error of the assembly itself: 0, and uncertain by `u`."""
        return UncertainValue.of(0.0, ErrorSource(f"assembly:{self.fit}:{name}", label, u, shape=shape))

    def _copy(self, of: PartSize) -> int:
        return of.copy or self.copies.get(of.part, 1)


class Geometry(Protocol):
    """One kind of fit with its fields filled in."""

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes and parts that it rests on."""
        ...

    @property
    def straight(self) -> bool:
        """Whether every place is a plain sum: then the first order is exact."""
        ...

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """What goes into it, in an order of its own."""
        ...

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """What it comes to at every place, from those inputs."""
        ...
