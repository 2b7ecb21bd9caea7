"""Cutting the text of a size into its pieces: lengths as people write them, names, signs."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import StrEnum

from trued.errors import InputRefused

LONGEST = 200  # characters
_MOST_PIECES = 100


class Sort(StrEnum):
    """What a piece of the text is."""

    NUMBER = "number"
    NAME = "name"
    SIGN = "sign"
    END = "end"


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece as typed, and the column where it begins, from 1."""

    sort: Sort
    text: str
    column: int


# Every shape of a sign that keyboards make, one character for one, so that columns stay true.
_ALIKE = str.maketrans(
    {
        **dict.fromkeys("’‘‛ʹʼ′`´＇", "'"),
        **dict.fromkeys("”“„‟ʺ″〃＂", '"'),
        **dict.fromkeys("⁄∕／÷", "/"),
        **dict.fromkeys("‐‑‒–—−", "-"),
        **dict.fromkeys("×✕·", "*"),
        "\t": " ",
    }
)
_SMALL = "¼½¾⅛⅜⅝⅞⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚"
_NUMBER = rf"(?:[0-9]+ +[0-9]+/[0-9]+|[0-9]+ ?[{_SMALL}]|[{_SMALL}]|[0-9]+/[0-9]+|[0-9]*[.,][0-9]+|[0-9]+)"
_WORD_ENDS = "(?![A-Za-z0-9_])"
_INCH = rf"(?:\"|''|(?:inches|inch|in){_WORD_ENDS})"
_FOOT = rf"(?:'|(?:feet|foot|ft){_WORD_ENDS})"
_LITERAL = re.compile(
    rf"[0-9]+ *{_FOOT} *{_NUMBER} *{_INCH}?|{_NUMBER} *(?:{_INCH}|{_FOOT}|(?:mm|cm|m){_WORD_ENDS})|{_NUMBER}",
    re.IGNORECASE,
)
_NAME = re.compile("[A-Za-z_][A-Za-z0-9_]*")
_SIGNS = "+-*/(),.@"
_TWO_WAYS = re.compile(
    rf"(?<![A-Za-z0-9_./,])(?P<whole>[0-9]+)[-+](?P<part>[0-9]+/[0-9]+|[{_SMALL}])"
    rf"|(?P<feet>[0-9]+ *{_FOOT})-(?P<inches>[0-9])",
    re.IGNORECASE,
)
_THREE_STOREYS = re.compile("[0-9]+/[0-9]+/[0-9]*|/[0-9]+/[0-9]+")


def scan(text: str) -> tuple[Piece, ...]:
    """The pieces of `text`, with an END piece last; `InputRefused` where a character fits nowhere."""
    if len(text) > LONGEST:
        raise InputRefused.of("", text[:LONGEST] + "…", f"Write at most {LONGEST} characters for one size.")
    plain = "".join(" " if unicodedata.category(c) == "Zs" else c for c in text.translate(_ALIKE))
    _doubts(text, plain)
    pieces: list[Piece] = []
    at = 0
    while at < len(plain):
        if plain[at] == " ":
            at += 1
            continue
        pieces.append(_next(text, plain, at))
        at = pieces[-1].column - 1 + len(pieces[-1].text)
    if len(pieces) > _MOST_PIECES:
        raise InputRefused.of("", text, "This is too long to follow; give parts of it names under [measured].")
    return (*pieces, Piece(Sort.END, "", len(text) + 1))


def refused(text: str, column: int, why: str) -> InputRefused:
    """The refusal that points at a column."""
    return InputRefused.of(f"column {column}", text, why)


def _next(text: str, plain: str, at: int) -> Piece:
    for sort, shape in ((Sort.NUMBER, _LITERAL), (Sort.NAME, _NAME)):
        if found := shape.match(plain, at):
            return Piece(sort, text[at : found.end()], at + 1)
    if plain[at] in _SIGNS:
        return Piece(Sort.SIGN, plain[at], at + 1)
    raise refused(
        text, at + 1, f"The sign {text[at]!r} means nothing here; use lengths, names, + - * / ( ) min and max."
    )


def _doubts(text: str, plain: str) -> None:
    """Refuse what could be read in two ways."""
    if found := _TWO_WAYS.search(plain):
        whole, part = found["whole"] or found["feet"], found["part"] or found["inches"]
        mend = f"{whole} {part} for one length, {whole} - {part} for a difference"
        raise refused(text, found.start() + 1, f"This can be read in two ways; write {mend}.")
    if found := _THREE_STOREYS.search(plain):
        raise refused(text, found.start() + 1, "Two slashes in a row; put the fraction in brackets: (3/4).")
