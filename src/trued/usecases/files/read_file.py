"""A text file that a person names, read no further than a person's file can be long."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from trued.errors import InputRefused

MOST_BYTES = 1_000_000
"""Of a job, shop or readings file; a form of the page holds as much. A long job file is a few thousand."""


def read_text(file: Path, where: str = "") -> str:
    """A text file, its lines ending in a line feed; InputRefused names it, or `where` when that is told.

    At most MOST_BYTES + 1 are read, whatever stands behind the name: a device or a pipe tells no size beforehand.
    """
    read = str(file) if where else ""
    where = where or str(file)
    try:
        with file.open("rb", buffering=0) as source:
            content = _at_most(source.read, MOST_BYTES + 1)
        if len(content) > MOST_BYTES:
            raise InputRefused.of(where, read, _TOO_LONG)
        text = content.decode("utf-8-sig")
    except FileNotFoundError:
        raise InputRefused.of(where, read, "There is no such file.") from None
    except (OSError, ValueError) as error:
        raise InputRefused.of(where, read, f"The file cannot be read as text: {error}.") from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def read_input(where: str) -> str:
    """The same from standard input."""
    try:
        text = sys.stdin.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise InputRefused.of(where, "-", f"The input cannot be read as text: {error}.") from None
    if len(text) > MOST_BYTES:
        raise InputRefused.of(where, "-", _TOO_LONG)
    return text.removeprefix("\ufeff")


def _at_most(read: Callable[[int], bytes | None], most: int) -> bytes:
    """So many bytes, or all there are: a pipe gives them in pieces."""
    pieces: list[bytes] = []
    while most > 0 and (piece := read(most)):
        pieces.append(piece)
        most -= len(piece)
    return b"".join(pieces)


_TOO_LONG = "This holds more than a million bytes; no file of a shop, a job or readings does. Name another file."
