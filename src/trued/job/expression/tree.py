"""A size expression, read: what is left of the text once it is understood.

One tree serves every reckoning: targets over exact fractions, actual sizes over uncertain values.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction


class Side(StrEnum):
    """The three sizes of a part."""

    LENGTH = "length"
    WIDTH = "width"
    THICKNESS = "thickness"


@dataclass(frozen=True, slots=True)
class Constant:
    """A number as written: millimetres where it stands for a length, else a plain number."""

    value: Fraction


@dataclass(frozen=True, slots=True)
class Name:
    """A size named in the job; always a length. `column` is where it stands in its text, from 1."""

    name: str
    column: int = field(default=1, compare=False)

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class PartSize:
    """A size of a part; `copy` counts from 1, None is each copy."""

    part: str
    side: Side
    copy: int | None = None
    column: int = field(default=1, compare=False)

    def __str__(self) -> str:
        return f"{self.part}{f'@{self.copy}' if self.copy else ''}.{self.side}"


@dataclass(frozen=True, slots=True)
class Negated:
    """Minus what follows."""

    inner: Node


@dataclass(frozen=True, slots=True)
class Binary:
    """Two operands and the sign between them: + - * or /."""

    sign: str
    left: Node
    right: Node


@dataclass(frozen=True, slots=True)
class Choice:
    """The smallest (`min`) or the largest (`max`) of several."""

    word: str
    among: tuple[Node, ...]


Node = Constant | Name | PartSize | Negated | Binary | Choice


def walk(node: Node) -> Iterator[Node]:
    """Every node, parents before children, in the order written."""
    yield node
    for child in children(node):
        yield from walk(child)


def children(node: Node) -> tuple[Node, ...]:
    """The nodes right below one."""
    match node:
        case Negated(inner):
            return (inner,)
        case Binary(_, left, right):
            return (left, right)
        case Choice(_, among):
            return among
        case _:
            return ()


def uses(node: Node) -> tuple[Name | PartSize, ...]:
    """The named sizes and part sizes that an expression rests on, each once, in the order written."""
    return tuple(dict.fromkeys(here for here in walk(node) if isinstance(here, Name | PartSize)))
