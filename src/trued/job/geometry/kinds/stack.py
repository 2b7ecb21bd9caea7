"""Pieces laid one against the next: boards glued edge to edge, slats or dividers with spacers between them.

Every piece is straight on its reference edge, square at its beginning, `deep` long, and may be tapered: at its far
end it is wider by taper · deep. The next piece lies tight against its other edge and so turns with the taper. A spacer
is a piece without taper. What is looked at lies square to the first edge, at the beginning and at the far end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.job.expression.tree import Node
from trued.job.geometry.fit_geometry import BuiltGeometry, LimitPlace, Q
from trued.job.geometry.number import cosine, sine
from trued.job.geometry.unmeasured_errors import TAPER
from trued.measure.estimate import ErrorSource, UncertainValue


@dataclass(frozen=True, slots=True)
class GlueUp:
    """Width over `wanted` of a panel of `boards` glued edge to edge. deep: how long they are.

    turned: every second board lies end for end, so that their tapers go out.
    """

    boards: tuple[Node, ...]
    deep: Node
    wanted: Node
    turned: bool = False

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes that it rests on."""
        return *self.boards, self.deep, self.wanted

    @property
    def straight(self) -> bool:
        """Tapers turn what lies on them."""
        return False

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """Wanted width, length, then of every board its width where it begins and its taper."""
        deep, taper = made.size(self.deep), tapering(made)
        found = [made.size(self.wanted), deep]
        for number, board in enumerate(self.boards):
            back = self.turned and number % 2 == 1
            width = made.size(board)
            found += [width + taper * deep.value, -taper] if back else [width, taper]
        return tuple(found)

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """At the one end and at the other."""
        begins, ends = stacked(x[1], x[2::2], x[3::2])
        return LimitPlace(begins - x[0], "where it begins"), LimitPlace(ends - x[0], "at the far end")


@dataclass(frozen=True, slots=True)
class Row:
    """The last gap of a row of pieces in an opening, each laid against a spacer from the one before it.

    The first spacer lies against the wall. opening: at the beginning and at the far end of the pieces.
    """

    opening: tuple[Node, Node]
    pieces: tuple[Node, ...]
    spacer: Node
    deep: Node

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes that it rests on."""
        return *self.opening, *self.pieces, self.spacer, self.deep

    @property
    def straight(self) -> bool:
        """Tapers turn what lies on them."""
        return False

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """Openings, spacer, length, taper, then the pieces."""
        opening = (made.size(node) for node in self.opening)
        pieces = (made.size(node) for node in self.pieces)
        return *opening, made.size(self.spacer), made.size(self.deep), tapering(made), *pieces

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """The last gap at the one end and at the other."""
        near, away, spacer, deep, taper, *pieces = x
        none = 0.0 * taper
        widths = [width for piece in pieces for width in (spacer, piece)]
        begins, ends = stacked(deep, widths, [none, taper] * len(pieces))
        return LimitPlace(near - begins, "where it begins"), LimitPlace(away - ends, "at the far end")


def tapering(made: BuiltGeometry) -> UncertainValue:
    """How much wider a ripped board is for each mm of its length; the same for all that were fed one way."""
    return UncertainValue.of(0.0, ErrorSource("taper:rip", TAPER, made.budget.untaught.taper_rad))


def stacked(deep: Q, widths: Sequence[Q], tapers: Sequence[Q]) -> tuple[Q, Q]:
    """How far the outermost edge lies from the first one, square to it: where it begins and where it ends.

    With pieces whose ends are square to their reference edge; taper is the tangent of what the next one turns by.
    """
    turned = 0.0 * deep
    heights: list[Q] = []
    rise = 0.0 * deep
    for width, taper in zip(widths, tapers, strict=True):
        heights.append(width * cosine(turned))
        # The turn of the next piece is the arc of the taper: sine and cosine of it come without a further function.
        rise = deep * (sine(turned) + taper * cosine(turned))
        turned = turned + _arc(taper)
    height = heights[0]
    for one in heights[1:]:
        height = height + one
    return height, height + rise


def _arc(taper: Q) -> Q:
    """The angle whose tangent is a small taper: below 0.01 the series is exact to 1e-15."""
    square = taper * taper
    return taper * (1.0 - square * (1.0 / 3.0 - square * (1.0 / 5.0 - square / 7.0)))
