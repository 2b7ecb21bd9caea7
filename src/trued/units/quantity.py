"""The other readings a form asks for: percent, temperature, mass, force, count, turns."""

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction

from trued.units.number import INCH_DENOMINATORS, exact, split, with_sign
from trued.units.typed import Typed

POUND_KG = Fraction("0.45359237")  # exact, international avoirdupois pound, 1959 (from memory)
GRAVITY = Fraction("9.80665")  # m/s², exact, standard acceleration (3rd CGPM 1901, from memory)

_KG = {
    **dict.fromkeys(("lb", "lbs", "lb."), POUND_KG),
    "oz": POUND_KG / 16,
    "kg": Fraction(1),
    "g": Fraction(1, 1000),
}
_NEWTON = {"n": Fraction(1), "lbf": POUND_KG * GRAVITY, "kgf": GRAVITY}
_TURNS = {**dict.fromkeys(("turn", "turns"), Fraction(1))}
_ZERO_KELVIN = Fraction("-273.15")


def read_percent(text: str, *, where: str = "") -> float:
    """A percentage as it is said: `8.5 %` and `8.5` are 8.5."""
    return _scaled(Typed(text, where), {"%": Fraction(1), "": Fraction(1)}, "Write a percentage as 8.5 %.")


def read_mass(text: str, *, where: str = "") -> float:
    """Kilograms: `12lb`, `5 kg`, `8oz`, `900g`."""
    return _scaled(Typed(text, where), _KG, "Write a weight with its unit: 12lb, 8oz, 5kg or 900g.")


def read_force(text: str, *, where: str = "") -> float:
    """Newtons: `15lbf`, `60N`, `6kgf`. Pounds alone are a weight and are refused."""
    return _scaled(Typed(text, where), _NEWTON, "Write a pull or push as 15lbf, 60N or 6kgf.")


def read_turns(text: str, *, where: str = "") -> float:
    """Turns of a screw: `1/24turn`, `0.125 turns`, `1 1/2 turns`. Which way is said beside it, so there is no sign."""
    return _scaled(Typed(text, where), _TURNS, "Write turns of a screw as 1/24turn or 0.125 turns.", range(1, 1000))


def read_count(text: str, *, where: str = "") -> int:
    """A count: whole and not below 0."""
    typed = Typed(text, where)
    if not re.fullmatch("[0-9]{1,7}", typed.body):
        raise typed.refused("", "Write a whole number such as 7.")
    return int(typed.body)


def read_temperature(text: str, *, where: str = "") -> float:
    """Degrees Celsius: `70F`, `21C`, `-5 °C`. A bare number is refused: 40 is a cold or a hot day."""
    typed = Typed(text, where)
    advice = "Write a temperature with F or C: 70F or 21C."
    parts = split(typed, signed=True, what="A temperature")
    if parts is None:
        raise typed.refused("", advice)
    sign, number, rest = parts
    scale = rest.removeprefix("°").strip()
    if scale not in ("f", "c"):
        raise typed.refused(rest, advice)
    degrees = with_sign(sign, exact(typed, number))
    celsius = degrees if scale == "c" else (degrees - 32) * Fraction(5, 9)
    if celsius < _ZERO_KELVIN:
        raise typed.refused(number, "Nothing is as cold as that; check the sign and the unit.")
    return float(celsius)


def _scaled(
    typed: Typed, factors: Mapping[str, Fraction], advice: str, denominators: Sequence[int] = INCH_DENOMINATORS
) -> float:
    parts = split(typed, signed=False, what="This reading")
    if parts is None:
        raise typed.refused("", advice)
    _, number, rest = parts
    if rest not in factors:
        raise typed.refused(rest, advice)
    return float(exact(typed, number, denominators) * factors[rest])
