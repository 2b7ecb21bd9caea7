"""Which cut gives a part its length, and which its width."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trued.job.expression.tree import Side
from trued.plan.layout.cut_tree import Axis, Cut, Node, Part, Used


@dataclass(frozen=True, slots=True)
class SizingCut:
    """One copy of a part with the cuts that made it; None where the stock was as long or as wide already."""

    part: Part
    used: Used
    length: Cut | None
    width: Cut | None

    def cut(self, side: Side) -> Cut | None:
        """The cut that gave its length or its width."""
        return self.length if side is Side.LENGTH else self.width


def makers(used: Sequence[Used]) -> Iterator[SizingCut]:
    """Every copy: the last cut across and the last cut along are those that sized it."""
    for piece in used:
        for part, above in _paths(piece.tree, ()):
            across, along = _last(above, Axis.ACROSS), _last(above, Axis.ALONG)
            yield SizingCut(part, piece, *((along, across) if part.turned else (across, along)))


def _paths(node: Node | None, above: tuple[Cut, ...]) -> Iterator[tuple[Part, tuple[Cut, ...]]]:
    if isinstance(node, Part):
        yield node, above
    elif isinstance(node, Cut):
        for child in (node.low, node.high):
            yield from _paths(child, (*above, node))


def _last(above: tuple[Cut, ...], axis: Axis) -> Cut | None:
    return next((cut for cut in reversed(above) if cut.axis is axis), None)
