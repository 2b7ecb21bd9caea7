"""A length: an exact number of millimetres."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Self, overload

Unit = Literal["in", "mm"]

MM_PER_INCH = Fraction(127, 5)  # exact by agreement since 1 July 1959 (24 FR 5348; NIST SP 811, B.8 -- from memory)


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """An exact length, of either sign; whoever holds it judges whether 0 or less makes sense.

    exact_mm: millimetres as a ratio of two whole numbers. A float is refused: it is rarely what was written.

    >>> (Length.from_in(25) + Length.from_in(Fraction(3, 16))).mm
    639.7625
    """

    exact_mm: Fraction

    def __post_init__(self) -> None:
        if not isinstance(self.exact_mm, Fraction):
            raise TypeError(f"Length holds a Fraction of millimetres, not {type(self.exact_mm).__name__}")

    @classmethod
    def from_mm(cls, mm: Fraction | int) -> Self:
        """The length of so many millimetres, exactly."""
        return cls(_ratio(mm))

    @classmethod
    def from_in(cls, inches: Fraction | int) -> Self:
        """The length of so many inches, exactly."""
        return cls(_ratio(inches) * MM_PER_INCH)

    @property
    def mm(self) -> float:
        """Millimetres, rounded once to a float."""
        return float(self.exact_mm)

    @property
    def exact_in(self) -> Fraction:
        """Inches, exactly."""
        return self.exact_mm / MM_PER_INCH

    def __add__(self, other: "Length") -> "Length":
        return Length(self.exact_mm + other.exact_mm)

    def __sub__(self, other: "Length") -> "Length":
        return Length(self.exact_mm - other.exact_mm)

    def __neg__(self) -> "Length":
        return Length(-self.exact_mm)

    def __abs__(self) -> "Length":
        return Length(abs(self.exact_mm))

    def __bool__(self) -> bool:
        return bool(self.exact_mm)

    def __mul__(self, times: Fraction | int) -> "Length":
        return Length(self.exact_mm * times)

    __rmul__ = __mul__

    @overload
    def __truediv__(self, by: "Length") -> Fraction: ...
    @overload
    def __truediv__(self, by: Fraction | int) -> "Length": ...
    def __truediv__(self, by: "Length | Fraction | int") -> "Length | Fraction":
        if isinstance(by, Length):
            return self.exact_mm / by.exact_mm
        return Length(self.exact_mm / by)


def in_mm(inches: Fraction | float) -> float:
    """So many inches, in millimetres: `in_mm(0.5)` is 12.7. A Fraction is rounded once, at the end."""
    return float(inches * MM_PER_INCH) if isinstance(inches, (Fraction, int)) else inches * 25.4


def in_inches(mm: Fraction | float) -> float:
    """So many millimetres, in inches: `in_inches(12.7)` is 0.5. A Fraction is rounded once, at the end."""
    return float(mm / MM_PER_INCH) if isinstance(mm, (Fraction, int)) else mm / 25.4


def _ratio(number: Fraction | int) -> Fraction:
    if not isinstance(number, (Fraction, int)):
        raise TypeError(f"an exact length is made from a whole number or a Fraction, not {type(number).__name__}")
    return Fraction(number)
