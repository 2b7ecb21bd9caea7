"""A piece between two faces: a board in an opening, a shelf between its dados, a drawer between its slides.

Looked at from above the faces run along y, the piece lies across. Each face and each side of the piece is straight
and is given at two depths, 0 and `deep`. The piece can slide along x but not turn (its near edge lies flush), so it
has the room that is left where the closest corner on the one hand and the closest on the other are looked at
together: four pairs of corners, of which two lie opposite each other and are what one sees as the gap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.job.expression.tree import Node, PartSize
from trued.job.geometry.assembly_squaring import Squaring
from trued.job.geometry.fit_geometry import BuiltGeometry, LimitPlace, LimitSide, Q
from trued.job.geometry.number import sine, tangent
from trued.measure.estimate import UncertainValue


@dataclass(frozen=True, slots=True)
class BoardBetween:
    """Room of a board whose two ends lie against parallel faces: a shelf in its dados, a rail in an opening.

    opening: from face to face; of a shelf from dado bottom to dado bottom. part: the board, by its length.
    """

    opening: Node
    part: PartSize
    width: Node

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes that it rests on."""
        return self.opening, self.part, self.width

    @property
    def straight(self) -> bool:
        """A tangent is not, though very nearly."""
        return False

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """Opening, length at the reference edge, width, lean of either end."""
        length = made.size(self.part, ends=False)
        return made.size(self.opening), length, made.size(self.width), *(made.lean(self.part, end) for end in (1, 2))

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """At either edge, and from corner to corner."""
        opening, length, width, one, two = x
        first, second = width * tangent(one), width * tangent(two)
        room = opening - length
        return (
            LimitPlace(room, "at the reference edge"),
            LimitPlace(room - first - second, "at the other edge"),
            LimitPlace(room - first, "corner to corner", LimitSide.LEAST),
            LimitPlace(room - second, "corner to corner", LimitSide.LEAST),
        )


@dataclass(frozen=True, slots=True)
class Drawer:
    """Room of a drawer box between two slides that are screwed to the walls of its opening.

    opening: its width at the face and at the back (one size stands for both). box: outside width at front and back.
    slide: what one slide takes. deep: how far the box goes in. squared: how the box was brought square.
    """

    opening: tuple[Node, Node]
    box: tuple[Node, Node]
    slide: Node
    deep: Node
    squared: Squaring = Squaring.TAPE

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes that it rests on."""
        return *self.opening, *self.box, self.slide, self.deep

    @property
    def straight(self) -> bool:
        """A racked box takes depth times the sine of its racking."""
        return False

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """Openings, boxes, slide, depth, racking of the box in plan."""
        sizes = tuple(made.size(node) for node in self.nodes)
        racked = self.squared.racking(made, "box", made.size(self.box[0]), made.size(self.deep))
        return *sizes, racked

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """At the face, at the back, and from the one to the other when the box is racked."""
        face, back, front, rear, slide, deep, racked = x
        aside = deep * sine(racked)
        return (
            LimitPlace(face - front - 2.0 * slide, "at the face"),
            LimitPlace(back - rear - 2.0 * slide, "at the back"),
            LimitPlace(back - rear - 2.0 * slide - aside, "front to back", LimitSide.LEAST),
            LimitPlace(face - front - 2.0 * slide + aside, "front to back", LimitSide.LEAST),
        )


@dataclass(frozen=True, slots=True)
class Thickness:
    """A shelf's thickness in the width of its dado: the thickest place counts, and the thinnest for play.

    dado: as it is meant to be cut. part: the shelf.
    """

    dado: Node
    thickness: Node

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes that it rests on."""
        return self.dado, self.thickness

    @property
    def straight(self) -> bool:
        """A plain difference."""
        return True

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """Dado with the error of cutting it, thickness."""
        return made.joint(self.dado), made.size(self.thickness)

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """Everywhere alike."""
        return (LimitPlace(x[0] - x[1]),)
