"""What a person typed, with the many shapes of quote, dash, space and fraction that keyboards make brought to one."""

import re
import unicodedata
from dataclasses import dataclass, field

from trued.errors import InputRefused

LONGEST = 60  # characters; a longer text is no reading, and nothing that is matched below can grow slow

_ALIKE = str.maketrans(
    {
        **dict.fromkeys("’‘‛ʹʼ′`´＇", "'"),
        **dict.fromkeys("”“„‟ʺ″〃＂", '"'),
        **dict.fromkeys("⁄∕／", "/"),  # fraction slash, division slash, full-width slash
        **dict.fromkeys("‐‑‒–—", "-"),  # a real minus sign (U+2212) stays: it never means "and"
        **dict.fromkeys("×✕", "x"),
        **dict.fromkeys("º˚", "°"),
        "µ": "u",
        "μ": "u",
        "\t": " ",
    }
)
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789")
_LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
_SMALL_FRACTION = re.compile("([⁰¹²³⁴-⁹]+)/([₀-₉]+)")


@dataclass(frozen=True, slots=True)
class Typed:
    """One piece of text and where it was typed; `body` is what the readers look at.

    >>> Typed("25½”", "length").body
    '25 1/2"'
    """

    text: str
    where: str = ""
    body: str = field(init=False, default="")

    def __post_init__(self) -> None:
        if len(self.text) > LONGEST:
            raise InputRefused.of(self.where, self.text[:LONGEST] + "…", f"Write at most {LONGEST} characters here.")
        object.__setattr__(self, "body", _plain(self.text))

    def part(self, body: str) -> "Typed":
        """A part of the text to be read by itself; what was typed stays the whole."""
        part = Typed(self.text, self.where)
        object.__setattr__(part, "body", body.strip())
        return part

    def refused(self, piece: str, why: str) -> InputRefused:
        """The error that names the piece at fault, unless the piece is all there is."""
        pointed = f"At “{piece.strip()}”: " if piece.strip() not in ("", _plain(self.text)) else ""
        return InputRefused.of(self.where, self.text, pointed + why)


def _plain(text: str) -> str:
    seen = "".join(_one(mark) for mark in text)
    seen = _SMALL_FRACTION.sub(_small_fraction, seen.translate(_ALIKE))
    # ½ stands close to its whole number and close to what follows; spelled out it needs its own room.
    seen = re.sub(r"(?<=[0-9\x01])\x00", " ", seen)
    seen = re.sub(r"\x01(?=[0-9])", " ", seen)
    return seen.replace("\x00", "").replace("\x01", "").replace("''", '"').strip().lower()


def _one(mark: str) -> str:
    kind = unicodedata.category(mark)
    if kind == "Zs":
        return " "
    if kind == "Cf":  # invisible: what is seen is what counts
        return ""
    if kind == "Cc" and mark not in "\t\n\r":  # no keyboard types it; two of them are marks in here
        return "\N{REPLACEMENT CHARACTER}"
    if kind == "No" and "\u2044" in (spelled := unicodedata.normalize("NFKC", mark)):
        return f"\x00{spelled}\x01"
    return mark


def _small_fraction(found: re.Match[str]) -> str:
    return f"\x00{found[1].translate(_RAISED)}/{found[2].translate(_LOWERED)}\x01"
