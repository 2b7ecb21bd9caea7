"""Amounts in advice: a move in the one unit that the hand reads, a deviation as it shows on the work."""

from __future__ import annotations

from trued import units
from trued.equipment.shop import Shop
from trued.measure.feelers import COMMON_INCH, COMMON_METRIC, smallest_step_mm
from trued.standing.amounts.hand import hand_of, is_tilt, length_in_hand, radius_mm
from trued.units import Unit

__all__ = [
    "amount_said",
    "expected_said",
    "found_said",
    "is_tilt",
    "length_said",
    "ordered_said",
    "radius_mm",
    "step_mm",
]

_STEPS_MM: dict[Unit, float] = {"in": smallest_step_mm(COMMON_INCH), "mm": smallest_step_mm(COMMON_METRIC)}


def step_mm(unit: Unit) -> float:
    """The least that two leaves of a common set of feelers differ by: so far one in the place of another moves it."""
    return _STEPS_MM[unit]


def length_said(mm: float, unit: Unit) -> str:
    """`0.0050 in` or `0.127 mm`, without a sign."""
    return length_in_hand(mm, unit).shown


def amount_said(amount: float, kind: str, feature: str, shop: Shop | None) -> str:
    """`0.0050 in at the screw`, `0.0035 in`, `0.088°`, or a ratio, without a sign; `kind` is the unit inside."""
    if kind in ("rad", "mm"):
        return hand_of(amount, kind, feature, shop).text
    return f"{abs(amount):.5f}"


def found_said(value: float, kind: str, feature: str, shop: Shop | None) -> str:
    """What was found, without a sign: an angle as it shows on the work, whatever its screw reads."""
    if kind != "rad" or is_tilt(feature):
        return amount_said(value, kind, feature, shop)
    return units.show_angle(abs(value), shop.unit if shop is not None else "in")


def expected_said(value: float, half: float, kind: str, feature: str, shop: Shop | None) -> str:
    """Where something will stand, with its 95 % interval: `+0.0004 in/ft ± 0.0031 in/ft`."""
    x, about = (found_said(size, kind, feature, shop).partition(" (")[0] for size in (value, half))
    return f"{'-' if value < 0.0 else '+'}{x} ± {about}"


def ordered_said(amount: float, kind: str, feature: str, shop: Shop | None) -> str:
    """An amount that is to be turned: as `amount_said`, and where a feeler sets it as feelers can make it."""
    return hand_of(amount, kind, feature, shop, settable=True).text if kind in ("rad", "mm") else f"{abs(amount):.5f}"
