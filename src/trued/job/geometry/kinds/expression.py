"""A fit that the person wrote as a sum over sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.job.expression.tree import Binary, Choice, Constant, Name, Negated, Node, PartSize, uses
from trued.job.geometry.fit_geometry import BuiltGeometry, LimitPlace, Q
from trued.job.geometry.number import chosen
from trued.measure.estimate import UncertainValue


@dataclass(frozen=True, slots=True)
class Expression:
    """`of`, with the names in it that are sums themselves written out, so that every choice in them is seen.

    leaves: the sizes and numbers at its ends, each once.
    """

    of: Node
    leaves: tuple[Constant | Name | PartSize, ...]

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sum itself."""
        return (self.of,)

    @property
    def straight(self) -> bool:
        """Whether nothing is chosen, and nothing uncertain is multiplied or divided by anything uncertain."""
        return _straight(self.of)

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """The actual sizes."""
        return tuple(made.size(leaf) for leaf in self.leaves)

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """The one place where it is looked at."""
        return (LimitPlace(_reckoned(self.of, dict(zip(self.leaves, x, strict=True)))),)


def expression_of(node: Node) -> Expression:
    """The fit of a sum whose names have been written out."""
    return Expression(node, tuple(dict.fromkeys(_leaves(node))))


def _leaves(node: Node) -> list[Constant | Name | PartSize]:
    match node:
        case Constant() | Name() | PartSize():
            return [node]
        case Negated(inner):
            return _leaves(inner)
        case Binary(_, left, right):
            return _leaves(left) + _leaves(right)
        case Choice(_, among):
            return [leaf for one in among for leaf in _leaves(one)]


def _reckoned(node: Node, known: dict[Constant | Name | PartSize, Q]) -> Q:
    match node:
        case Constant() | Name() | PartSize():
            return known[node]
        case Negated(inner):
            return -_reckoned(inner, known)
        case Choice(word, among):
            return chosen(word, [_reckoned(one, known) for one in among])
        case Binary(sign, left, right):
            a, b = _reckoned(left, known), _reckoned(right, known)
            if sign == "+":
                return a + b
            if sign == "-":
                return a - b
            return a * b if sign == "*" else a / b


def _straight(node: Node) -> bool:
    match node:
        case Choice():
            return False
        case Negated(inner):
            return _straight(inner)
        case Binary(sign, left, right):
            plain = sign in "+-" or not uses(right) or (sign == "*" and not uses(left))
            return plain and _straight(left) and _straight(right)
        case _:
            return True
