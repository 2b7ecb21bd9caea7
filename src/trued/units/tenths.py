"""Whole tenths of a nanometre, the whole numbers in which layouts are reckoned.

Ten millions make a millimetre, so that 1/128 in (1 984 375), 0.0001 in (25 400) and a millimetre written with seven
places are all whole; 2440 mm is 2.44e10 and fits a 64-bit number and a float.
"""

import math
from fractions import Fraction

from trued.errors import InputRefused
from trued.units.length import Length

TENTHS_PER_MM = 10_000_000


def tenths_nm(exact: Length | Fraction, where: str = "") -> int:
    """The size as whole tenths of a nanometre; one that does not come out whole is refused."""
    value = _tenths(exact)
    if value.denominator != 1:
        raise InputRefused.of(
            where, f"{value / TENTHS_PER_MM} mm", "This size is finer than a tenth of a nanometre; round it first."
        )
    return value.numerator


def tenths_nm_up(exact: Length | Fraction) -> int:
    """Rounded up where it is not whole: for parts, kerf, trims and defects."""
    return math.ceil(_tenths(exact))


def tenths_nm_down(exact: Length | Fraction) -> int:
    """Rounded down where it is not whole: for stock."""
    return math.floor(_tenths(exact))


def from_tenths_nm(tenths: int) -> Length:
    """The length of so many tenths of a nanometre."""
    return Length(Fraction(tenths, TENTHS_PER_MM))


def _tenths(exact: Length | Fraction) -> Fraction:
    return (exact.exact_mm if isinstance(exact, Length) else exact) * TENTHS_PER_MM
