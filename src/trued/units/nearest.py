"""The nearest known word, for a sentence that refuses an unknown one."""

from __future__ import annotations

import difflib
from collections.abc import Sequence


def nearest(word: str, known: Sequence[str]) -> str:
    """`Did you mean X?` when a known word is close, else the list of what is known."""
    close = difflib.get_close_matches(word, known, n=1)
    return f"Did you mean {close[0]}?" if close else f"Known: {', '.join(known)}."
