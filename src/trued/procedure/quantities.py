"""Amounts as the texts of a check say them, in the person's unit: `0.0054 in`, `0.14 mm`, `0.0036 in/ft`."""

from __future__ import annotations

import math

from trued.measure.screw import nearest_turn, turns_of
from trued.procedure.declaration import Reading, RunInput
from trued.units import Length, as_decimal, as_mm

INCH = 25.4
FOOT_MM = 12 * INCH
MIL = 0.0254  # mm: a thousandth of an inch, by which the trade says drifts and how far a thing has gone
MRAD = 1e-3  # rad
DEG = math.radians(1.0)


def inches(x: float) -> float:
    """Millimetres in `x` inches: the tolerances of the trade are said in inches."""
    return x * INCH


def size(mm: float, unit: str, digits: int = 4) -> str:
    """A length without its sign: `0.0054 in` or `0.14 mm` (millimetres get two digits fewer)."""
    if unit == "mm":
        return as_mm(abs(mm), max(0, digits - 2)).text
    return f"{as_decimal(abs(mm), digits).text} in"


def slope(rad: float, unit: str) -> str:
    """A small angle without its sign, as it shows on the work: `0.0036 in/ft`, `0.09 mm per 300 mm`."""
    if unit == "mm":
        return f"{as_mm(300.0 * math.tan(abs(rad)), 2).text} per 300 mm"
    return f"{as_decimal(FOOT_MM * math.tan(abs(rad)), 4).text} in/ft"


def turns(mm: float, pitch_mm: float) -> str:
    """A travel of a screw as the part of a turn that a hand can make, and exactly: `about 1/8 of a turn (39°)`."""
    exact = f" ({360.0 * turns_of(abs(mm), pitch_mm):.0f}°)"
    whole, part = divmod(nearest_turn(abs(mm), pitch_mm), 1)
    by_hand = " ".join(str(number) for number in (whole, part) if number)
    if not by_hand:
        return "less than a hand can turn"
    said = f"{by_hand} of a turn" if not whole else f"{by_hand} turn{'s' if whole + part > 1 else ''}"
    return f"about {said}{exact}"


def station_mm(station: str, unit: str) -> float:
    """The place that was typed after "@" as a length in mm."""
    return _length(station, unit)


def place(reading: Reading) -> str:
    """`fence_end=0.702`, `play@start=0.006`: a reading as it was typed."""
    at = f"@{reading.station}" if reading.station else ""
    return f"{reading.name}{at}={reading.typed}"


def plain(mm: float, taken: RunInput) -> str:
    """A length as it would be typed anew, in the person's unit and without it: `1.0087`."""
    return f"{mm:.2f}" if taken.unit == "mm" else as_decimal(mm, 4).text


def _length(text: str, unit: str) -> float:
    from trued.units import read_length

    length: Length = read_length(text, "mm" if unit == "mm" else "in")
    return length.mm
