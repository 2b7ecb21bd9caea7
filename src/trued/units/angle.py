"""Angles: read as degrees, radians or a slope, shown as a slope first and degrees second."""

import math
import re

from trued.units.length import Length, Unit
from trued.units.number import exact, split, with_sign
from trued.units.reading import MM, read_marked_length
from trued.units.typed import Typed

_DEGREES = frozenset(("°", "deg", "deg.", "degree", "degrees"))
_RADIANS = {"rad": 1.0, "mrad": 1e-3, "urad": 1e-6}
_SLOPE = re.compile(r"(?P<rise>.*[^0-9 /]) *(?:/| per ) *(?P<run>[^/]+)")
_ONLY_DEGREES = 0.2  # rad; beyond a dozen degrees a slope per foot says nothing to anyone
_ADVICE = "Write an angle as 0.1deg, 0.003in/ft, 0.3mm/300mm, 1.2mrad or 0.0002rad."


def read_angle(text: str, *, where: str = "") -> float:
    """The angle that was typed, in radians, with its sign.

    text: degrees (`0.1deg`, `22 1/2°`), radians (`0.0002rad`, `1.2mrad`), or a slope: a length over a length
          (`0.003in/ft`, `1/64" per ft`, `0.3 mm/300 mm`), whose angle is the arc tangent.
    Raises `InputRefused`; a bare number is refused, because degrees and slopes look alike.
    """
    typed = Typed(text, where)
    if slope := _SLOPE.fullmatch(typed.body):
        return _slope(typed, slope["rise"], slope["run"])
    parts = split(typed, signed=True, what="An angle")
    if parts is None:
        raise typed.refused("", _ADVICE)
    sign, number, rest = parts
    if rest not in _DEGREES and rest not in _RADIANS:
        raise typed.refused(rest, f"{_unit_fault(rest)} {_ADVICE}")
    value = float(with_sign(sign, exact(typed, number)))
    return math.radians(value) if rest in _DEGREES else value * _RADIANS[rest]


def read_degrees(text: str, *, where: str = "") -> float:
    """The angle to which something is set, in radians, 0 or more: degrees, which a bare number means here.

    text: `45`, `22.5`, `22 1/2°`, `45 deg`. Raises `InputRefused`.
    """
    typed = Typed(text, where)
    parts = split(typed, signed=False, what="An angle")
    if parts is None:
        raise typed.refused("", "Write the angle in degrees, as 45 or 22.5; 0 when it is square.")
    _, number, rest = parts
    if rest and rest not in _DEGREES:
        raise typed.refused(rest, "This angle is in degrees: write it as 45 or 22.5, 0 when it is square.")
    degrees = float(exact(typed, number))
    if degrees >= 90.0:
        raise typed.refused("", "Nothing is set to 90 degrees from square or more.")
    return math.radians(degrees)


def show_angle(rad: float, unit: Unit) -> str:
    """An angle for a person: `0.0036 in/ft (0.0172°)`, or `0.09 mm per 300 mm (0.017°)`.

    rad: radians; beyond 0.2 rad degrees alone are shown.
    """
    places = 4 if unit == "in" else 3
    degrees = f"{_round(math.degrees(rad), places):.{places}f}°"
    if abs(rad) > _ONLY_DEGREES:
        return degrees
    if unit == "in":
        return f"{_round(12 * math.tan(rad), 4):.4f} in/ft ({degrees})"
    return f"{_round(300 * math.tan(rad), 2):.2f} mm per 300 mm ({degrees})"


def _unit_fault(rest: str) -> str:
    if rest.startswith("/"):
        return "Both lengths of a slope need a unit."
    return "This unit is not known." if rest else "The unit is missing."


def _slope(typed: Typed, rise: str, run: str) -> float:
    if _SLOPE.fullmatch(rise):
        raise typed.refused("", f"A slope is one length over another. {_ADVICE}")
    over = read_marked_length(typed.part(rise), signed=True)
    under = _run(typed.part(run))
    if not under:
        raise typed.refused(run, "A slope needs a length to rise over; write it as 0.3mm/300mm.")
    return math.atan(float(over / under))


def _run(typed: Typed) -> Length:
    if typed.body in MM:  # in/ft: over one foot
        return Length(MM[typed.body])
    return read_marked_length(typed, signed=False)


def _round(value: float, digits: int) -> float:
    return round(value, digits) + 0.0  # -0.0 becomes 0.0
