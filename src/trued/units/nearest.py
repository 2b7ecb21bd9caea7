"""The nearest known word, for a sentence that refuses an unknown one."""

from __future__ import annotations

import difflib
from collections.abc import Sequence

MOST = 5  # more of them nobody reads


def nearest(word: str, known: Sequence[str]) -> str:
    """`Did you mean X?` when a known word is close, or begins as this one; else at most five of what is known."""
    close = difflib.get_close_matches(word, known, n=1) or _begins(word, known)
    if close:
        return f"Did you mean {close[0]}?"
    return f"Known: {', '.join(known[:MOST])}{f', and {len(known) - MOST} more' if len(known) > MOST else ''}."


def _begins(word: str, known: Sequence[str]) -> list[str]:
    """Known words whose first part (`fence` of `fence-angle`) this is, or nearly."""
    heads = {head: name for name in reversed(known) if (head := name.partition("-")[0]) != name}
    return [heads[head] for head in difflib.get_close_matches(word, list(heads), n=1)]
