"""Amounts in advice: in the person's unit, and for an angle what it is at the screw."""

from __future__ import annotations

import math

from trued import units
from trued.measure.feelers import COMMON_INCH, COMMON_METRIC, smallest_step_mm
from trued.shop.feature import named
from trued.shop.shop import Shop
from trued.shop.words import settable_mm
from trued.units import Unit

_STEPS_MM: dict[Unit, float] = {"in": smallest_step_mm(COMMON_INCH), "mm": smallest_step_mm(COMMON_METRIC)}


def radius_mm(feature: str, shop: Shop | None) -> float | None:
    """From the pivot to the adjusting point of the fixture that a feature belongs to; None while it is not known."""
    thing = named(feature).thing
    fixtures = shop.fixtures if shop is not None else ()
    return next((fixture.number("radius") for fixture in fixtures if fixture.id == thing), None)


def step_mm(unit: Unit) -> float:
    """The least that two leaves of a common set of feelers differ by: so far one in the place of another moves it."""
    return _STEPS_MM[unit]


def length_said(mm: float, unit: Unit) -> str:
    """`0.0050 in` or `0.127 mm`, without a sign."""
    size = abs(mm)
    return f"{units.as_decimal(size, 4).text} in" if unit == "in" else units.as_mm(size, 3).text


def by_degrees(feature: str, kind: str, shop: Shop | None) -> bool:
    """Whether its amount is said and typed in degrees: an angle with no adjusting point that is known."""
    return kind == "rad" and radius_mm(feature, shop) is None


def degrees_said(rad: float, feature: str) -> str:
    """`0.088°` of a blade's tilt, as a gauge on the blade shows it; one digit more of a fence."""
    return f"{math.degrees(abs(rad)):.{3 if is_tilt(feature) else 4}f}°"


def is_tilt(feature: str) -> bool:
    """The blade's tilt is set by a gauge that shows degrees: a slope says nothing there."""
    return named(feature).feature == "bevel"


def amount_said(amount: float, kind: str, feature: str, shop: Shop | None) -> str:
    """`0.0050 in at the screw, which is 0.0033 in/ft (0.0158°)`, `0.0035 in`, or a ratio; `kind` is the unit inside."""
    unit: Unit = shop.unit if shop is not None else "in"
    if kind == "mm":
        return length_said(amount, unit)
    if kind != "rad":
        return f"{abs(amount):.5f}"
    if is_tilt(feature):
        return degrees_said(amount, feature)
    slope = units.show_angle(abs(amount), unit)
    radius = radius_mm(feature, shop)
    return slope if radius is None else f"{length_said(amount * radius, unit)} at the screw, which is {slope}"


def ordered_mm(amount: float, feature: str, shop: Shop | None) -> float | None:
    """An angle at the adjusting point as the step that feelers can make there; None where its radius is not known."""
    radius = radius_mm(feature, shop)
    return None if radius is None else settable_mm(abs(amount) * radius, shop.unit if shop is not None else "in")


def ordered_said(amount: float, kind: str, feature: str, shop: Shop | None) -> str:
    """An amount that is to be turned: as `amount_said`, and where a feeler sets it as feelers can make it."""
    radius, mm = radius_mm(feature, shop), ordered_mm(amount, feature, shop)
    settable = amount if kind != "rad" or radius is None or mm is None else mm / radius
    return amount_said(settable, kind, feature, shop)
