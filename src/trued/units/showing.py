"""Showing a length: rounded once, and what the rounding took away kept beside it."""

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from trued.units.length import Length, Unit
from trued.units.number import INCH_DENOMINATORS

Rounding = Literal["nearest", "down", "up"]


@dataclass(frozen=True, slots=True)
class Shown:
    """What the text says, exactly, and what is left: `value + remainder` is the length that was shown."""

    text: str
    value: Length
    remainder: Length

    def __str__(self) -> str:
        return self.text


def as_fraction(length: Length | Fraction | float, denominator: int = 64, *, rounding: Rounding = "nearest") -> Shown:
    """Inches as a whole number and a reduced fraction: `13 25/64`.

    length:      a Length, or millimetres.
    denominator: the finest fraction, 2, 4 … 128.
    rounding:    `down` is never larger than the length, `up` never smaller; nearest takes the even one of two equal.
    """
    if denominator not in INCH_DENOMINATORS:
        raise ValueError(f"a fraction is shown to 1/2 … 1/128, not to 1/{denominator}")
    exact = _length(length)
    value = Length.from_in(Fraction(_steps(exact.exact_in * denominator, rounding), denominator))
    return Shown(_fraction_text(value.exact_in), value, exact - value)


def as_decimal(length: Length | Fraction | float, digits: int = 4, *, rounding: Rounding = "nearest") -> Shown:
    """Inches as a decimal: `13.3910`. Rounding as in `as_fraction`."""
    exact = _length(length)
    steps = _steps(exact.exact_in * 10**digits, rounding)
    value = Length.from_in(Fraction(steps, 10**digits))
    return Shown(_decimal_text(steps, digits), value, exact - value)


def as_mm(length: Length | Fraction | float, digits: int = 2, *, rounding: Rounding = "nearest") -> Shown:
    """Millimetres as a decimal with its unit: `340.12 mm`. Rounding as in `as_fraction`."""
    exact = _length(length)
    steps = _steps(exact.exact_mm * 10**digits, rounding)
    value = Length.from_mm(Fraction(steps, 10**digits))
    return Shown(f"{_decimal_text(steps, digits)} mm", value, exact - value)


def show_length(length: Length | Fraction | float, unit: Unit, *, denominator: int = 64, digits: int = 4) -> str:
    """A length for a person: `13 25/64 (+0.0004)` in inches, `340.12 mm` in millimetres.

    length:      a Length, or millimetres.
    digits:      of the remainder in inches; millimetres get two fewer (0.0001 in is about 0.0025 mm).
    A remainder that rounds to 0 is left out.
    """
    if unit == "mm":
        return as_mm(length, max(0, digits - 2)).text
    shown = as_fraction(length, denominator)
    left = as_decimal(shown.remainder, digits)
    return f"{shown} ({'+' if left.value > Length.from_mm(0) else ''}{left})" if left.value else shown.text


def _length(length: Length | Fraction | float) -> Length:
    return length if isinstance(length, Length) else Length(Fraction(length))


def _steps(exact: Fraction, rounding: Rounding) -> int:
    if rounding == "down":
        return math.floor(exact)
    return math.ceil(exact) if rounding == "up" else round(exact)


def _fraction_text(inches: Fraction) -> str:
    whole, left = divmod(abs(inches), 1)
    words = [str(whole)] if whole or not left else []
    words += [f"{left.numerator}/{left.denominator}"] if left else []
    return ("-" if inches < 0 else "") + " ".join(words)


def _decimal_text(steps: int, digits: int) -> str:
    whole, places = divmod(abs(steps), 10**digits)
    return ("-" if steps < 0 else "") + (f"{whole}.{places:0{digits}d}" if digits else str(whole))
