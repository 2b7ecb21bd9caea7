"""Paragraphs for a terminal."""

from __future__ import annotations

import re
import shlex
import textwrap
from collections.abc import Sequence

WIDTH = 100
_TOGETHER = re.compile(r"(?<=\d) (?=(?:in|mm|min|%|m²|\d+/\d+)\b|%)")
"""Between a number and its unit or its fraction no line ends."""


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
