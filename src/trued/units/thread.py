"""The pitch of a screw, from any of the ways a thread is named."""

import re
from fractions import Fraction

from trued.units.length import MM_PER_INCH
from trued.units.number import exact
from trued.units.typed import Typed

# A metric thread named without a pitch is the coarse one (ISO 261; from memory).
COARSE_PITCH_MM = {"3": "0.5", "4": "0.7", "5": "0.8", "6": "1", "8": "1.25", "10": "1.5", "12": "1.75"}

_NUMBER = r"[0-9]*[.,][0-9]+|[0-9]+"
_PER_INCH = re.compile(r"(?P<n>[0-9]{1,3}) *(?:/ *in\.?|/ *inch|/ *\"|per inch|per in|tpi)")
_UNIFIED = re.compile(r"(?:#?[0-9]{1,2}|[0-9]+/[0-9]+|[0-9]+ [0-9]+/[0-9]+) *- *(?P<n>[0-9]{1,3})(?: *un[cf])?")
_METRIC = re.compile(rf"m(?P<size>[0-9]{{1,2}}) *(?:x *(?P<pitch>{_NUMBER}))?(?: *mm)?")
_PITCH = re.compile(rf"(?P<pitch>{_NUMBER}) *mm")
_ADVICE = "Write a thread as 20/in, 1/4-20, M6x1 or, by its pitch, 1mm."


def read_thread(text: str, *, where: str = "") -> float:
    """The pitch in millimetres of `20/in`, `20 tpi`, `1/4-20`, `#10-24`, `M6x1`, `M6` (coarse), `1mm`."""
    typed = Typed(text, where)
    pitch = _pitch(typed)
    if not 0 < pitch <= MM_PER_INCH:
        raise typed.refused("", "A thread has a pitch above 0 and at most 1 in. " + _ADVICE)
    return float(pitch)


def _pitch(typed: Typed) -> Fraction:
    if found := _PER_INCH.fullmatch(typed.body) or _UNIFIED.fullmatch(typed.body):
        threads = int(found["n"])
        return MM_PER_INCH / threads if threads else Fraction(0)
    if found := _METRIC.fullmatch(typed.body):
        return exact(typed, found["pitch"]) if found["pitch"] else _coarse(typed, found["size"])
    if found := _PITCH.fullmatch(typed.body):
        return exact(typed, found["pitch"])
    raise typed.refused("", _ADVICE)


def _coarse(typed: Typed, size: str) -> Fraction:
    if size not in COARSE_PITCH_MM:
        raise typed.refused("", f"Give the pitch of this thread, as in M{size}x1.")
    return Fraction(COARSE_PITCH_MM[size])
