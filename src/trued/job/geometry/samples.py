"""A quantity in many simulated shops at once: one number for each draw."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Array = NDArray[float64]


@dataclass(frozen=True, slots=True, eq=False)
class Samples:
    """`values[i]` is what it came to in draw i; add, subtract, multiply and divide go draw by draw."""

    values: Array

    def __add__(self, other: Samples | float) -> Samples:
        return Samples(self.values + bare(other))

    __radd__ = __add__

    def __neg__(self) -> Samples:
        return Samples(-self.values)

    def __sub__(self, other: Samples | float) -> Samples:
        return Samples(self.values - bare(other))

    def __rsub__(self, other: float) -> Samples:
        return Samples(other - self.values)

    def __mul__(self, other: Samples | float) -> Samples:
        return Samples(self.values * bare(other))

    __rmul__ = __mul__

    def __truediv__(self, other: Samples | float) -> Samples:
        return Samples(self.values / bare(other))


def bare(x: Samples | float) -> Array | float:
    """The numbers of a drawn quantity, or the number itself."""
    return x.values if isinstance(x, Samples) else x
