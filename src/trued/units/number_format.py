"""How every surface writes a quantity: one set of places, one way of chances, one unit for what is carried or weighed.

Values come in as they are inside (rad, mm, mm/mm, %, N, kg, mm²); the text is in the person's unit. A thousandth of an
inch, 0.01 mm and 0.0001 in/ft are what a caliper and a feeler tell; finer places appear only where a limit has them, or
where a number would otherwise round to 0 or onto its limit.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction

from trued.units.length import Unit
from trued.units.quantity import GRAVITY, POUND_KG

MOST_PLACES = 6
_NOTHING = 1e-9  # of the unit that is shown: what is left of a sum that is 0
_USUAL = {("length", "in"): 3, ("length", "mm"): 2, ("slope", "in"): 4, ("slope", "mm"): 2}
_FINEST_LIMIT = {("length", "in"): 4, ("length", "mm"): 3, ("slope", "in"): 4, ("slope", "mm"): 3}
_SQ_FT_MM2 = 304.8**2


def in_unit(value: float, kind: str, unit: Unit) -> float:
    """A value of a feature (`rad`, `mm`, `mm/mm` or what has no other unit) as the number that is shown."""
    if kind == "rad":
        return math.tan(value) * (12.0 if unit == "in" else 300.0)
    if kind == "mm/mm":
        return value * (12.0 if unit == "in" else 300.0)
    return value / 25.4 if kind == "mm" and unit == "in" else value


def places_for(kind: str, unit: Unit, limits: Iterable[float | None] = ()) -> int:
    """Places of a number and of its limits, which get the same; `limits` as they are inside."""
    key = _shape(kind), unit
    most = _FINEST_LIMIT.get(key, 2)
    needed = _USUAL.get(key, 1 if kind == "%" else 2)
    for limit in limits:
        shown = abs(in_unit(limit, kind, unit)) if limit is not None else 0.0
        while needed < most and abs(shown - round(shown, needed)) > 0.01 * 10**-needed:
            needed += 1
    return needed


def quantity(value: float, kind: str, unit: Unit, *, limits: Iterable[float | None] = (), bare: bool = False) -> str:
    """`0.012 in`, `0.0060 in/ft`, `0.15 mm/300 mm`, `8.5%`; with a minus sign below 0.

    limits: those that it stands beside: it gets their places, and one more where it would round onto or across one.
    bare:   without the unit.
    """
    beside = tuple(limit for limit in limits if limit is not None)
    places = places_for(kind, unit, beside)
    shown = in_unit(value, kind, unit)
    edges = [in_unit(limit, kind, unit) for limit in beside]
    if any(_hidden(shown, edge, places) for edge in edges):
        places += 1
    text = decimal(shown, places)
    return text if bare else f"{text}{unit_after(kind, unit)}"


def decimal(shown: float, places: int) -> str:
    """A number that is rounded once; what is not 0 is never written as 0: it gets more places."""
    if abs(shown) < _NOTHING:
        return "0"
    while places < MOST_PLACES and not round(abs(shown), places):
        places += 1
    text = f"{_rounded(shown, places):.{places}f}"
    return text if any(digit in text for digit in "123456789") else "0"


def unit_after(kind: str, unit: Unit) -> str:
    """What stands behind a number of that kind: ` in/ft`, ` mm`, `%`."""
    if kind in ("rad", "mm/mm"):
        return " in/ft" if unit == "in" else " mm/300 mm"
    if kind == "%":
        return "%"
    return f" {unit}" if kind == "mm" else f" {kind}"


def degrees(rad: float) -> str:
    """`0.029°`: what stands in brackets behind a slope."""
    return f"{decimal(math.degrees(rad), 3)}°"


def percent(p: float) -> str:
    """A chance: `77%`, `under 1%`, `over 99%`; never 0% or 100%."""
    if p < 0.01:
        return "under 1%"
    return "over 99%" if p > 0.99 else f"{100.0 * p:.0f}%"


def percent_range(low: float, high: float) -> str:
    """`18-69%`: between which a chance itself lies."""
    one, two = percent(low), percent(high)
    if one == two:
        return one
    return f"{one.removesuffix('%')}-{two}" if one[0].isdigit() and two[0].isdigit() else f"{one} to {two}"


def area(mm2: float, unit: Unit) -> str:
    """`22 sq ft`, `2.02 m²`."""
    return f"{_round_size(mm2 / _SQ_FT_MM2)} sq ft" if unit == "in" else f"{decimal(mm2 / 1e6, 2)} m²"


def weight(kg: float, unit: Unit) -> str:
    """`3 lb`, `1.2 kg`."""
    return f"{_round_size(kg / float(POUND_KG))} lb" if unit == "in" else f"{_round_size(kg)} kg"


def force(newton: float, unit: Unit) -> str:
    """A push as the weight that makes it, in an inch book: `3 lb`; else `12 N`."""
    return weight(newton / float(GRAVITY), unit) if unit == "in" else f"{_round_size(newton)} N"


def _shape(kind: str) -> str:
    return "slope" if kind in ("rad", "mm/mm") else "length" if kind == "mm" else kind


def _hidden(shown: float, edge: float, places: int) -> bool:
    """Whether rounding brings it onto its limit or across it."""
    if abs(shown - edge) < _NOTHING:
        return False
    near, at = _rounded(shown, places), _rounded(edge, places)
    return near == at or (near > at) is not (shown > edge)


def _rounded(shown: float, places: int) -> float:
    return float(round(Fraction(shown).limit_denominator(10**12), places))


def _round_size(value: float) -> str:
    """Two figures under 10, whole numbers above: a weight on a sled is not known better."""
    return decimal(value, 0) if abs(value) >= 10.0 else decimal(value, 1).removesuffix(".0")
