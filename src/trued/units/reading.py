"""Reading a length exactly as it was typed; what could mean two things is refused, never guessed."""

import re
from fractions import Fraction

from trued.units.doubts import doubt
from trued.units.length import MM_PER_INCH, Length, Unit
from trued.units.number import NUMBER, exact, split, with_sign
from trued.units.typed import Typed

INCHES = frozenset(('"', "in", "in.", "inch", "inches"))
FEET = frozenset(("'", "ft", "ft.", "foot", "feet"))
METRIC = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}
MM = dict.fromkeys(INCHES, MM_PER_INCH) | dict.fromkeys(FEET, 12 * MM_PER_INCH) | METRIC

_FOOT_AND_INCH = re.compile(rf"('|ft\.?|foot|feet) *-? *(?P<inches>{NUMBER}) *(?P<unit>\"|in\.?|inch|inches)?")
_WHOLE = re.compile("[0-9]+")


def read_length(text: str, unit: Unit = "in", *, signed: bool = False, where: str = "") -> Length:
    """The length that was typed.

    text:   any form of docs/units.md: `25 3/16`, `25-3/16"`, `25.047`, `63,6 cm`, `½`, `1' 2 1/2"`, `636mm`.
    unit:   what a bare number means; a bare fraction is inches and is refused where this is `mm`.
    signed: whether a sign may stand before it (a gap has one, a size has none).
    where:  the place that a fault names.
    Raises `InputRefused` with one fault that points at the piece and says what to do.

    >>> read_length("13 25/64").exact_in
    Fraction(857, 64)
    """
    typed = Typed(text, where)
    parts = split(typed, signed=signed, what="This length")
    if parts is None:
        raise doubt(typed)
    sign, number, rest = parts
    return Length(with_sign(sign, _size(typed, number, rest, unit)))


def read_marked_length(typed: Typed, *, signed: bool) -> Length:
    """A length that must say its own unit, as the two parts of a slope must."""
    parts = split(typed, signed=signed, what="This length")
    if parts is None:
        raise doubt(typed)
    sign, number, rest = parts
    if not rest:
        raise typed.refused(number, "Say the unit here: in, ft, mm, cm or m.")
    return Length(with_sign(sign, _size(typed, number, rest, "in")))


def _size(typed: Typed, number: str, rest: str, unit: Unit) -> Fraction:
    if rest in MM or not rest:
        return _one_unit(typed, number, rest, unit)
    if found := _FOOT_AND_INCH.fullmatch(rest):
        return _foot_and_inch(typed, number, found["inches"])
    raise doubt(typed)


def _one_unit(typed: Typed, number: str, rest: str, unit: Unit) -> Fraction:
    written = rest or unit
    value = exact(typed, number)
    if "/" in number and written in METRIC:
        mend = f'write {number}" or a decimal' if not rest else f"write a decimal before {rest}"
        raise typed.refused(typed.body, f"A fraction is inches; {mend}.")
    return value * MM[written]


def _foot_and_inch(typed: Typed, feet: str, inches: str) -> Fraction:
    if not _WHOLE.fullmatch(feet):
        raise typed.refused(feet, "Feet before inches are a whole number.")
    over = exact(typed, inches)
    if over >= 12:
        raise typed.refused(
            inches, "After feet the inches are below 12; write it all in inches, or check both numbers."
        )
    return (exact(typed, feet) * 12 + over) * MM_PER_INCH
