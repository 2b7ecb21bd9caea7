"""Moving the pieces of a cut tree: strips that lie side by side, shifted whole."""

from __future__ import annotations

from dataclasses import replace

from trued.plan.layout.cut_tree import Axis, Cut, Node, Sized
from trued.plan.layout.pieces import Rect


def chain_of(first: Cut) -> list[Cut]:
    """The cuts side by side that each size the strip on their reference side."""
    chain = [first]
    while isinstance(high := chain[-1].high, Cut) and high.axis is first.axis and high.sized is Sized.LOW:
        chain.append(high)
    return chain


def start_of(rect: Rect, axis: Axis) -> int:
    """Where a piece begins along the axis."""
    return rect.x if axis is Axis.ACROSS else rect.y


def between(rect: Rect, axis: Axis, begin: int, end: int) -> Rect:
    """The same piece with other ends along the axis."""
    if axis is Axis.ACROSS:
        return Rect(begin, rect.y, end - begin, rect.width)
    return Rect(rect.x, begin, rect.length, end - begin)


def shifted(node: Node, axis: Axis, by: int) -> Node:
    """The node with all that lies in it, moved along the axis."""
    rect = node.piece
    if by == 0:
        return node
    x, y = (by, 0) if axis is Axis.ACROSS else (0, by)
    piece = Rect(rect.x + x, rect.y + y, rect.length, rect.width)
    if not isinstance(node, Cut):
        return replace(node, piece=piece)
    low, high = (None if child is None else shifted(child, axis, by) for child in (node.low, node.high))
    return replace(node, piece=piece, low=low, high=high)
