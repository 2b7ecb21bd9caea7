"""What the parser knows of a stretch of an expression: its tree, and whether it is a length or a plain number."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from trued.errors import InputRefused
from trued.job.expression.tokenizer import Piece, refused
from trued.job.expression.tree import Binary, Choice, Constant, Negated, Node
from trued.units import MM_PER_INCH, Unit, read_length
from trued.units.number import NUMBER, exact
from trued.units.typed import Typed

_UNDER_THE_SLASH = range(1, 1000)


class Kind(StrEnum):
    """A length, a plain number, or a bare number that can still be either."""

    LENGTH = "a length"
    NUMBER = "a plain number"
    BARE = "a bare number"


@dataclass(frozen=True, slots=True)
class Term:
    """A stretch that begins at `column`.

    A bare one holds `bare`, its number: no name and no unit went into it. `typed` is its text while it is one number
    as written, `fraction` whether a slash went into it (which in a metric job can be no length).
    """

    node: Node
    kind: Kind
    column: int
    bare: Fraction = Fraction(0)
    typed: str = ""
    fraction: bool = False


@dataclass(frozen=True, slots=True)
class Written:
    """The text that is read and the unit of a bare number in it."""

    text: str
    unit: Unit

    def refused(self, column: int, why: str) -> InputRefused:
        """The refusal that points at a column of the text."""
        return refused(self.text, column, why)


def literal(piece: Piece, there: Written) -> Term:
    """A number as written, with or without a unit."""
    body = Typed(piece.text).body
    try:
        if re.fullmatch(NUMBER, body):
            value = exact(Typed(piece.text), body, _UNDER_THE_SLASH)
            return _bare(value, piece.column, typed=piece.text, fraction="/" in body)
        return Term(Constant(read_length(piece.text).exact_mm), Kind.LENGTH, piece.column)
    except InputRefused as error:
        raise there.refused(piece.column, error.faults[0].text) from None


def to_length(term: Term, there: Written) -> Node:
    """The tree of a term that stands where a length is wanted."""
    if term.kind is Kind.LENGTH:
        return term.node
    if term.kind is Kind.NUMBER:
        raise there.refused(term.column, "This comes to a plain number; a size needs a length with its unit.")
    if term.typed:
        try:
            return Constant(read_length(term.typed, there.unit).exact_mm)
        except InputRefused as error:
            raise there.refused(term.column, error.faults[0].text) from None
    if term.fraction and there.unit == "mm":
        raise there.refused(term.column, 'A fraction is inches; write it with ", or as a decimal.')
    return Constant(term.bare * (MM_PER_INCH if there.unit == "in" else 1))


def negated(term: Term) -> Term:
    """Minus the term."""
    if term.kind is Kind.BARE:
        return _bare(-term.bare, term.column, fraction=term.fraction)
    return replace(term, node=Negated(term.node))


def binary(sign: Piece, left: Term, right: Term, there: Written) -> Term:
    """Left and right with the sign between them."""
    if left.kind is Kind.BARE and right.kind is Kind.BARE:
        return _both_bare(sign, left, right, there)
    kind = _SUM if sign.text in "+-" else _TIMES if sign.text == "*" else _OVER
    result = kind.get((left.kind, right.kind))
    if result is None:
        raise there.refused(sign.column, _why_not(sign.text, left.kind, right.kind))
    pair = (left, right) if sign.text in "+-" and result is Kind.LENGTH else None
    nodes = [to_length(term, there) for term in pair] if pair else [left.node, right.node]
    return Term(Binary(sign.text, *nodes), result, left.column)


def choice(word: Piece, among: Sequence[Term], there: Written) -> Term:
    """The smallest or largest of lengths; bare numbers among them are lengths."""
    nodes = tuple(to_length(term, there) for term in among)
    return Term(Choice(word.text, nodes), Kind.LENGTH, word.column)


_L, _N, _B = Kind.LENGTH, Kind.NUMBER, Kind.BARE
_SUM = {(_L, _L): _L, (_L, _B): _L, (_B, _L): _L, (_N, _N): _N, (_N, _B): _N, (_B, _N): _N}
_TIMES = {(_L, _N): _L, (_L, _B): _L, (_N, _L): _L, (_B, _L): _L, (_N, _N): _N, (_N, _B): _N, (_B, _N): _N}
_OVER = {(_L, _N): _L, (_L, _B): _L, (_L, _L): _N, (_N, _N): _N, (_N, _B): _N, (_B, _N): _N}


def _why_not(sign: str, left: Kind, right: Kind) -> str:
    if sign == "*":
        return "A length times a length is an area, not a size; one of the two must be a plain number."
    if sign == "/":
        return f"Here {left} is divided by a length, which is no size; divide a length by a number or by a length."
    return f"Here {left} and {right} are put together; give the number a unit, or check the brackets."


def _both_bare(sign: Piece, left: Term, right: Term, there: Written) -> Term:
    a, b = left.bare, right.bare
    if sign.text == "/" and b == 0:
        raise there.refused(right.column, "Nothing can be divided by 0.")
    value = {"+": a + b, "-": a - b, "*": a * b}[sign.text] if sign.text != "/" else a / b
    return _bare(value, left.column, fraction=left.fraction or right.fraction or sign.text == "/")


def _bare(value: Fraction, column: int, *, typed: str = "", fraction: bool = False) -> Term:
    return Term(Constant(value), Kind.BARE, column, value, typed, fraction)
