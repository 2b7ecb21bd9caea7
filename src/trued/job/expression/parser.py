"""Reading the expression of a size: lengths, names, part sizes, + - * / ( ) min max. Nothing else can be said in it.

A bare number is a length in the job's unit where a length is wanted, and a plain number where it multiplies or
divides one: `2*t` and `t/2` are lengths, `t + 2` adds a length. A length times a length is refused, and so is a
length more than a plain number. docs/job-file.md has the rules for people.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from trued.errors import InputRefused
from trued.job.expression.naming import UNIT_WORDS
from trued.job.expression.tokenizer import Piece, Sort, scan
from trued.job.expression.tree import Constant, Name, Node, PartSize, Side
from trued.job.expression.typed_expression import Kind, Term, Written, binary, choice, literal, negated, to_length
from trued.units import Unit, read_length
from trued.units.nearest import nearest

_DEEPEST = 20
_SPACED_SIGN = re.compile(" [-+−–] ")
_WORD = re.compile("(?<![0-9])(?<![0-9] )(?<![A-Za-z0-9_])[A-Za-z_][A-Za-z0-9_]*")
_MORE_THAN_ONE = re.compile(r"[*×·÷()@]|\S *[-+−–] *\S")


def read_expression(text: str, unit: Unit = "in", *, signed: bool = False) -> Node:
    """The tree of a text that comes to a length; `InputRefused` points at the column and says what to do.

    A text that is one length as people write it is that length; a sign with spaces around it always subtracts.
    signed: whether one length may have a sign before it, as a limit of a fit may.
    """
    if not _SPACED_SIGN.search(text):
        try:
            return Constant(read_length(text, unit, signed=signed).exact_mm)
        except InputRefused:
            if not _is_sum(text):
                raise
    there = Written(text, unit)
    parser = _Parser(there, scan(text))
    term = parser.sum()
    parser.end()
    return to_length(term, there)


def _is_sum(text: str) -> bool:
    """Whether more than one length was meant: then the expression reader's words help more than the unit reader's."""
    words = {word.lower() for word in _WORD.findall(text)}
    return bool(words - UNIT_WORDS) or bool(_MORE_THAN_ONE.search(text))


@dataclass(slots=True)
class _Parser:
    there: Written
    pieces: tuple[Piece, ...]
    at: int = 0
    depth: int = 0
    calls: int = 0

    @property
    def here(self) -> Piece:
        return self.pieces[self.at]

    def take(self, *signs: str) -> Piece | None:
        """The piece here if it is one of `signs`, and go on."""
        if self.here.sort is Sort.SIGN and self.here.text in signs:
            self.at += 1
            return self.pieces[self.at - 1]
        return None

    def refuse(self, why: str, piece: Piece | None = None) -> InputRefused:
        return self.there.refused((piece or self.here).column, why)

    def end(self) -> None:
        if self.here.sort is not Sort.END:
            raise self.refuse(f'A sign is missing before "{self.here.text}", or it is one too many.')

    def sum(self) -> Term:
        left = self.product()
        while sign := self.take("+", "-"):
            left = binary(sign, left, self.product(), self.there)
        return left

    def product(self) -> Term:
        left = self.factor()
        while sign := self.take("*", "/"):
            left = binary(sign, left, self.factor(), self.there)
        return left

    def factor(self) -> Term:
        self.depth += 1
        if self.depth > _DEEPEST:
            raise self.refuse("Too many brackets inside one another; give a part of it a name under [measured].")
        term = self._factor()
        self.depth -= 1
        return term

    def _factor(self) -> Term:
        if self.take("-"):
            return negated(self.factor())
        if self.take("("):
            inner = self.sum()
            self.close()
            return inner
        piece = self.here
        self.at += 1
        if piece.sort is Sort.NUMBER:
            if self.calls and "," in piece.text:
                raise self.refuse("A comma between digits can be a decimal or part two sizes; write a point.", piece)
            return literal(piece, self.there)
        if piece.sort is Sort.NAME:
            return self.named(piece)
        self.at -= 1
        raise self.refuse("A length or a name is missing here.")

    def close(self) -> None:
        if not self.take(")"):
            raise self.refuse("A closing bracket is missing here.")

    def named(self, piece: Piece) -> Term:
        if self.take("("):
            return self.call(piece)
        if self.here.text in (".", "@") and self.here.sort is Sort.SIGN:
            return self.part_size(piece)
        return Term(Name(piece.text, piece.column), Kind.LENGTH, piece.column)

    def call(self, word: Piece) -> Term:
        if word.text not in ("min", "max"):
            raise self.refuse(f'There is no "{word.text}(…)"; there are min(…) and max(…).', word)
        self.calls += 1
        among = [self.sum()]
        while self.take(","):
            among.append(self.sum())
        self.close()
        self.calls -= 1
        return choice(word, among, self.there)

    def part_size(self, part: Piece) -> Term:
        copy = self.copy() if self.take("@") else None
        if not self.take("."):
            raise self.refuse(f"Say which size: {part.text}.length, .width or .thickness.")
        which = self.here
        if which.sort is not Sort.NAME or which.text not in tuple(Side):
            raise self.refuse(f"A part has length, width and thickness. {nearest(which.text, tuple(Side))}")
        self.at += 1
        size = PartSize(part.text, Side(which.text), copy, part.column)
        return Term(size, Kind.LENGTH, part.column)

    def copy(self) -> int:
        piece = self.here
        if not re.fullmatch("[1-9][0-9]{0,3}", piece.text):
            raise self.refuse("After @ stands the number of the copy, from 1: shelf@2.length.")
        self.at += 1
        return int(piece.text)
