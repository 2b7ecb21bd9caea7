"""A TOML text as plain tables, after a look whether reading it costs more than any real file is worth."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from typing import Any

LONGEST = 1_000_000
"""Characters of a whole file; a form holds as many bytes. A long job file is a few thousand."""
DEEPEST = 16
"""Dots of one key. Reading a key costs the square of its dots (20,000 dots: 3.3 s); ours have three at most."""

# What is never closed goes on to the end, where reading stops as well; so this looks at each sign once.
_STRING_OR_COMMENT = re.compile(
    r'"""(?:[^"\\]|\\[\s\S]|"(?!""))*+(?:"{3,5}|\Z|\\)'
    r"|'''(?:[^']|'(?!''))*+(?:'{3,5}|\Z)"
    r'|"(?:[^"\\\n]|\\[^\n])*+["\\]?'
    r"|'[^'\n]*+'?"
    r"|#[^\n]*+"
)
_DEEP = re.compile(rf"(?:\.[ \t]*+[A-Za-z0-9_-]*+[ \t]*+){{{DEEPEST + 1}}}")


class TooMuch(ValueError):
    """The text is no file of a person; `str()` is the sentence."""


def toml_tables(text: str, *, parse_float: Callable[[str], Any] = float) -> Mapping[str, object]:
    """The tables of a TOML 1.0 text.

    TooMuch: longer than LONGEST, a key of more than DEEPEST dots, nested too deep, or a number without an end; each is
    seen before anything is worked out. tomllib.TOMLDecodeError: it is no TOML.
    """
    if len(text) > LONGEST:
        raise TooMuch("The file is longer than a million characters; that is no file of a shop or a job.")
    if _deep(text):
        raise TooMuch(f"A name in the file has more than {DEEPEST} dots in it; no name here has more than three.")
    try:
        return tomllib.loads(text.removeprefix("\ufeff").replace("\r\n", "\n"), parse_float=parse_float)
    except tomllib.TOMLDecodeError:
        raise
    except (RecursionError, ValueError):
        raise TooMuch("This cannot be read as TOML (too deep, or a number too long).") from None


def _deep(text: str) -> bool:
    """Whether a key has too many dots. A key stands on one line, so that hardly any file is looked at closely."""
    if all(line.count(".") <= DEEPEST for line in text.split("\n")):
        return False
    return _DEEP.search(_STRING_OR_COMMENT.sub("s", text)) is not None
