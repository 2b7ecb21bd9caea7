"""Paragraphs for a terminal."""

from __future__ import annotations

import re
import shlex
import textwrap
from collections.abc import Sequence

WIDTH = 100
_TOGETHER = re.compile(r"(?<=\d) (?=(?:in|mm|min|%|m²|\d+/\d+)\b|%)")
"""Between a number and its unit or its fraction no line ends."""


# Signs that a terminal obeys and does not show, and those that turn the order of what is read around.
_OBEYED = re.compile("[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\u061c\\u200e\\u200f\\u2028-\\u202e\\u2066-\\u2069]")


def harmless(text: str) -> str:
    """The text as a terminal may have it: a name or note that holds an escape sequence shows it and does nothing."""
    return _OBEYED.sub(lambda found: ascii(found[0])[1:-1], text)


def wrapped(text: str, indent: str = "") -> str:
    """One paragraph, hanging under its first word; names with hyphens and numbers with their units stay whole."""
    return textwrap.fill(
        _TOGETHER.sub("\u00a0", text),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + "    ",
        break_on_hyphens=False,
        break_long_words=False,
    ).replace("\u00a0", " ")


def example(check: str, given: Sequence[str]) -> str:
    """How a check is called with these readings; a word with a space in it is quoted."""
    return shlex.join(("trued", "check", check, *given))
