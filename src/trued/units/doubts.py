"""Why a text is no length: the first rule that finds its piece speaks."""

import re
from typing import NamedTuple

from trued.errors import InputRefused
from trued.units.typed import Typed


class ParseHint(NamedTuple):
    """A shape that cannot be read (its group, if it has one, is the piece at fault), and what to do instead."""

    shape: str  # compiled when it is first needed: most runs refuse nothing
    advice: str


DOUBTS = (
    ParseHint(r"^$", "Nothing was typed; write a length such as 25 3/16 or 636mm."),
    ParseHint(r"(?<=[0-9\"]) ?[-+−]$", "Strong and shy are not a number; write the nearest fraction or a decimal."),
    ParseHint(
        r"\b(strong|full|heavy|shy|bare|light)\b", "This is not a number; write the nearest fraction or a decimal."
    ),
    ParseHint(r"\b0x[0-9a-f]*", "Write a plain decimal number."),
    ParseHint(r"[0-9.,]+e[-+−]?[0-9]+", "Write the number out, without the e: 1000, not 1e3."),
    ParseHint(r"\b(nan|inf|infinity)\b|∞", "This is not a number; write what was read."),
    ParseHint(r"[0-9]+(?:/[0-9]*){2,}", "A fraction has one slash; write it as 7/8."),
    ParseHint(
        r"[0-9]*[.,][0-9]*[.,][0-9.,]*", "A number has one point or one comma; leave out the marks between thousands."
    ),
    ParseHint(
        r"[0-9]*[.,][0-9]+[ +-]+[0-9]+/[0-9]+", "Before a fraction stands a whole number; write 25 3/16 or 25.1875."
    ),
    ParseHint(
        r"[0-9]+/[0-9]*[.,][0-9]*|[0-9]*[.,][0-9]*/[0-9]+", "A fraction has whole numbers; write a decimal instead."
    ),
    ParseHint(r"[0-9]+(?: +[-+−] *|[-+−] +|−)[0-9]+/[0-9]+", "Write 25 3/16 or 25-3/16 for a number and a fraction."),
    ParseHint(r"[0-9]+ +/ *[0-9]*|[0-9]+/ +[0-9]*", "Write a fraction without spaces: 3/4."),
    ParseHint(r"[0-9]+/(?![0-9])|(?<![0-9])/[0-9]+", "A number is missing beside the slash; write it as 3/4."),
    ParseHint(r"[0-9]+/[0-9]+ +[0-9]+[0-9/]*", "A fraction comes last; write 25 3/16."),
    ParseHint(
        r"(?<![0-9/])[0-9]+ +[0-9]+(?![0-9/])",
        "Two numbers stand here: is a slash or a point missing? Write 13 25/64 or 13.25.",
    ),
    ParseHint(
        r"(?:'|ft|foot|feet)[ .-]*([0-9.,/ ]+ *[mc]+)", "After feet come inches; write the whole length in one unit."
    ),
    ParseHint(r"[0-9]+[.,](?![0-9])", "A digit is missing after the point; write 25 or 25.0."),
    ParseHint(
        r"(?:\"|in\b|mm|cm|m\b).*[0-9].*", "One length has one unit, at its end (only feet and inches go together)."
    ),
    ParseHint(r"(?<=[0-9])[^0-9]+$", "This unit is not known; write in, \", ft, ', mm, cm or m."),
    ParseHint(
        r"[^0-9 ./,\"'+-]+", "A length is written with digits; write it as 25 3/16, 25.047, 1' 2 1/2\" or 636mm."
    ),
)
_OTHERWISE = "This is no length; write it as 25 3/16, 25.047, 1' 2 1/2\" or 636mm."


def doubt(typed: Typed) -> InputRefused:
    """The refusal of a text that is no length."""
    for shape, advice in DOUBTS:
        if found := re.search(shape, typed.body):
            return typed.refused(found[found.lastindex or 0], advice)
    return typed.refused("", _OTHERWISE)
