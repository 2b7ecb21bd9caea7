"""Reckoning an expression: one tree, over exact fractions for targets or over uncertain values for actual sizes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, Protocol, Self, TypeVar, assert_never

from trued.job.expression.tree import Binary, Choice, Constant, Name, Negated, Node, PartSize


class Quantity(Protocol):
    """What can be reckoned with."""

    def __add__(self, other: Self, /) -> Self: ...
    def __sub__(self, other: Self, /) -> Self: ...
    def __mul__(self, other: Self, /) -> Self: ...
    def __truediv__(self, other: Self, /) -> Self: ...
    def __neg__(self) -> Self: ...


Q = TypeVar("Q", bound=Quantity)


@dataclass(frozen=True, slots=True)
class Ground(Generic[Q]):
    """Where the numbers come from: a written number, a named size, and the choice of one among several."""

    constant: Callable[[Fraction], Q]
    named: Callable[[Name | PartSize], Q]
    choose: Callable[[str, Sequence[Q]], Q]


def evaluate(node: Node, ground: Ground[Q]) -> Q:
    """What the expression comes to. ZeroDivisionError where it divides by nought."""
    match node:
        case Constant(value):
            return ground.constant(value)
        case Name() | PartSize():
            return ground.named(node)
        case Negated(inner):
            return -evaluate(inner, ground)
        case Choice(word, among):
            return ground.choose(word, [evaluate(one, ground) for one in among])
        case Binary(sign, left, right):
            return _joined(sign, evaluate(left, ground), evaluate(right, ground))
        case _:
            assert_never(node)


def exact_choice(word: str, among: Sequence[Fraction]) -> Fraction:
    """The smallest (`min`) or largest of exact sizes."""
    return min(among) if word == "min" else max(among)


def _joined(sign: str, left: Q, right: Q) -> Q:
    match sign:
        case "+":
            return left + right
        case "-":
            return left - right
        case "*":
            return left * right
        case _:
            return left / right
