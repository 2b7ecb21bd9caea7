"""Names of parts and sizes: words that an expression can hold."""

from __future__ import annotations

import re

_NAME = re.compile("[A-Za-z_][A-Za-z0-9_]{0,39}")
UNIT_WORDS = frozenset(("in", "inch", "inches", "ft", "foot", "feet", "mm", "cm", "m"))
OWN_WORDS = frozenset(("min", "max", "measured", "length", "width", "thickness"))


def fault_of_name(name: str) -> str:
    """What is wrong with the name of a part or size, as a sentence; "" when it can be used."""
    if not _NAME.fullmatch(name):
        plain = re.sub("[^A-Za-z0-9_]+", "_", name).strip("_")[:40]
        mend = plain if _NAME.fullmatch(plain) else "top_panel"
        return f"A name is letters, digits and _, and begins with a letter, so that sizes can use it; write {mend}."
    if name.lower() in UNIT_WORDS | OWN_WORDS:
        return f"The word {name} has a meaning in sizes; take another name."
    return ""
