"""One number as the trade writes it: 25, 25.047, 63,6, 3/4, 25 3/16, 25-3/16. Exact, or refused."""

import re
from collections.abc import Sequence
from fractions import Fraction

from trued.units.typed import Typed

INCH_DENOMINATORS = (2, 4, 8, 16, 32, 64, 128)
MOST_DIGITS = 7  # on either side of the point: 10 km, and finer than any instrument; keeps the stored ratio in 64 bits

NUMBER = r"(?:[0-9]+(?: +|[-+])[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*[.,][0-9]+|[0-9]+)"
_JOINED = re.compile(r"([0-9]+)(?: +|[-+])([0-9]+/[0-9]+)")
_QUANTITY = re.compile(rf"(?P<sign>[-+−]?) *(?P<number>{NUMBER}) *(?P<rest>.*)")


def exact(typed: Typed, number: str, denominators: Sequence[int] = INCH_DENOMINATORS) -> Fraction:
    """The value of one number that matches `NUMBER`; `denominators` are those its fraction may have."""
    if joined := _JOINED.fullmatch(number):
        return _whole(typed, joined[1]) + _part(typed, joined[2], denominators)
    if "/" in number:
        return _fraction(typed, number, denominators)
    if "," in number or "." in number:
        return _decimal(typed, number)
    return Fraction(_whole(typed, number))


def split(typed: Typed, *, signed: bool, what: str) -> tuple[str, str, str] | None:
    """Sign, number and the rest of the text; None if the text does not begin with a number."""
    found = _QUANTITY.fullmatch(typed.body)
    if found is None:
        return None
    if found["sign"] and not signed:
        raise typed.refused(found["sign"], f"{what} has no sign; write it without one.")
    return found["sign"], found["number"], found["rest"]


def with_sign(sign: str, value: Fraction) -> Fraction:
    """The value under the sign that stood before it."""
    return -value if sign in ("-", "−") else value


def _whole(typed: Typed, digits: str) -> int:
    if len(digits.lstrip("0")) > MOST_DIGITS:
        raise typed.refused(digits, f"A number has at most {MOST_DIGITS} digits before the point.")
    return int(digits)


def _decimal(typed: Typed, number: str) -> Fraction:
    whole, places = re.split("[.,]", number)
    if "," in number and len(places) == 3:
        raise typed.refused(
            number,
            "A comma with three digits can be a thousand or a decimal; "
            f"write {whole or '0'}.{places} or {whole}{places}.",
        )
    if len(places) > MOST_DIGITS:
        raise typed.refused(number, f"A number has at most {MOST_DIGITS} digits after the point.")
    return _whole(typed, whole or "0") + Fraction(int(places), 10 ** len(places))


def _part(typed: Typed, written: str, denominators: Sequence[int]) -> Fraction:
    value = _fraction(typed, written, denominators)
    if value >= 1:
        raise typed.refused(written, "A fraction after a whole number is below 1; check both of its numbers.")
    return value


def _fraction(typed: Typed, written: str, denominators: Sequence[int]) -> Fraction:
    over, under = (_whole(typed, digits) for digits in written.split("/"))
    if under == 0:
        raise typed.refused(written, "Nothing can be divided by 0; write a fraction such as 3/4.")
    if under not in denominators:
        raise typed.refused(written, f"A fraction has {_spell(denominators)} under the slash; write a decimal instead.")
    return Fraction(over, under)


def _spell(denominators: Sequence[int]) -> str:
    first, *middle, last = map(str, denominators)
    return f"{', '.join([first, *middle])} or {last}" if len(middle) < 10 else f"{first} to {last}"
