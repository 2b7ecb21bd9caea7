"""How wide a text comes out, on the safe side, without asking a font.

On the page the reader's own sans serif is used, so each sign gets the width of the widest of two common ones, read from
the fonts; in print the font is known (fonts/) and narrower by a fixed share.
"""

import re

from trued.render.picture.printable_text import plain

_NARROW, _COMMON, _LARGE, _WIDE = 0.40, 0.66, 0.85, 1.02
_WIDTHS = (
    dict.fromkeys(" !'(),-./:;I[\\]`fijlrt|′’‘·\u00a0", _NARROW)
    | dict.fromkeys("ABCDEFGHKLNOPQRSTUVXYZJ#&+<=>^~w×−→≤≥±÷µ", _LARGE)
    | dict.fromkeys("%@mMW—…½¼¾Æœ", _WIDE)
)
_BELONGS = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|mm|lb|kg)\b|%)")  # 13 3/8, 340 mm, 90 %
BOLD = 1.1
"""How much wider bold text is, at most."""

PRINT = 0.87
"""How wide the print font is against the page's, at most."""


def width_of(text: str, size: float, *, bold: bool = False, share: float = 1.0) -> float:
    """Width of one line of text, at most, in the unit of `size`; `share` is 1 on the page and `PRINT` in print."""
    ems = sum(_WIDTHS.get(sign, _COMMON if ord(sign) < 0x2000 else _WIDE) for sign in text)
    return ems * size * share * (BOLD if bold else 1.0)


def kept_whole(text: str) -> str:
    """The text with sizes that no line may part: `13 3/8 in` stays together."""
    return _BELONGS.sub("\u00a0", text)


def wrapped(text: str, most: float, size: float, *, bold: bool = False, share: float = 1.0) -> tuple[str, ...]:
    """The text as lines no wider than `most`; a size stays whole, and only a single word that is wider is broken."""
    lines: list[str] = []
    for word in _words(kept_whole(plain(text)), most, size * share * (BOLD if bold else 1.0)):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size, bold=bold, share=share) <= most:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines) or ("",)


def _words(text: str, most: float, size: float) -> list[str]:
    """The words, each as one piece or as several that are no wider than `most`."""
    words = []
    for word in text.split(" "):
        start, wide = 0, 0.0
        for n, sign in enumerate(word):
            width = width_of(sign, size)
            if wide + width > most and n > start:
                words.append(word[start:n])
                start, wide = n, 0.0
            wide += width
        words.append(word[start:])
    return words
