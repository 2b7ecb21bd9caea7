"""A move in the one unit that the hand reads: at the screw, by a gauge on the blade, or as a slope on the work.

An angle of a fence is set by a feeler at its screw where the distance from the pivot is known, and else as what it is
over a foot (or 300 mm) of the work; a tilt is set by a gauge that shows degrees; all else is a length.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from trued import units
from trued.equipment.shop import Shop
from trued.equipment.sides import settable_mm
from trued.standing.feature import named
from trued.units import MM_PER_INCH, Unit

HandUnit = Literal["in", "mm", "deg", "in/ft", "mm/300mm"]
AT_THE_SCREW = ("fence-angle", "detent-angle")
"""Features that the screw of a fixture's fence turns: it moves no bar, and no facing."""
_FOOT, _RUN = 12.0, 300.0


@dataclass(frozen=True, slots=True)
class Hand:
    """An amount, 0 or more, in `unit`; `at` is where it is measured, "" where that goes without saying.

    shown: as it is written, `0.0165 in`; typed: as it is typed, with its unit where a bare number would mean another.
    """

    value: float
    unit: HandUnit
    shown: str
    typed: str
    at: str = ""

    @property
    def text(self) -> str:
        """`0.0165 in at the screw`."""
        return f"{self.shown} {self.at}".rstrip()


def radius_mm(feature: str, shop: Shop | None) -> float | None:
    """From the pivot to the adjusting point of the fixture that a feature belongs to; None while that is not known, and
    for what no screw turns."""
    thing = named(feature).thing if named(feature).feature in AT_THE_SCREW else ""
    fixtures = shop.fixtures if shop is not None else ()
    return next((fixture.number("radius") for fixture in fixtures if fixture.id == thing), None)


def is_tilt(feature: str) -> bool:
    """The blade's tilt is set by a gauge that shows degrees: a slope says nothing there."""
    return named(feature).feature == "bevel"


def hand_unit(feature: str, kind: str, shop: Shop | None) -> HandUnit:
    """What the hand reads when that feature is turned; `kind` is its unit inside."""
    unit: Unit = shop.unit if shop is not None else "in"
    if kind != "rad" or (not is_tilt(feature) and radius_mm(feature, shop) is not None):
        return unit
    return "deg" if is_tilt(feature) else "in/ft" if unit == "in" else "mm/300mm"


def hand_of(amount: float, kind: str, feature: str, shop: Shop | None, *, settable: bool = False) -> Hand:
    """A move of `amount` (rad or mm, its sign does not count) as the hand makes it.

    settable: as feelers can make it, where they set it.
    """
    size, unit = abs(amount), hand_unit(feature, kind, shop)
    if kind != "rad":
        return length_in_hand(size, unit)
    radius = radius_mm(feature, shop)
    if unit in ("in", "mm") and radius is not None:
        mm = settable_mm(size * radius, unit) if settable else size * radius
        return length_in_hand(mm, unit, "at the screw")
    return angle_in_hand(size, unit)


def length_in_hand(mm: float, unit: str, at: str = "") -> Hand:
    """A length at its place: `0.0165 in at the screw`."""
    if unit == "mm":
        shown = units.as_mm(abs(mm), 3).text
        return Hand(abs(mm), "mm", shown, shown.removesuffix(" mm"), at)
    text = units.as_decimal(abs(mm), 4).text
    return Hand(abs(mm) / float(MM_PER_INCH), "in", f"{text} in", text, at)


def angle_in_hand(rad: float, unit: str) -> Hand:
    """An angle that no screw is known for: in degrees, or as a slope of the work."""
    size = abs(rad)
    if unit == "deg":
        degrees = f"{math.degrees(size):.3f}"
        return Hand(math.degrees(size), "deg", f"{degrees}°", f"{degrees}deg")
    if unit == "mm/300mm":
        slope = _RUN * math.tan(size)
        return Hand(slope, "mm/300mm", f"{slope:.2f} mm per 300 mm", f"{slope:.2f}mm/300mm")
    slope = _FOOT * math.tan(size)
    return Hand(slope, "in/ft", f"{slope:.4f} in/ft", f"{slope:.4f}in/ft")
