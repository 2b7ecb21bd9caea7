"""Difference of the diagonals of a frame or box with four sides, none of which need be equal.

The corners are A, B along the bottom and C, D along the top, C above B. The four lengths leave one way to move:
racking. Say each corner is 90° + δ; racking is (δA − δB + δC − δD) / 4, and how it comes about is the rule:

tape:   the diagonals are brought to the same length; what is left is what a tape cannot show.
joints: each corner wants the angle that the end of its part was cut to, 90° + e. Joints of equal stiffness settle where
        the sum of (δ − e)² is least, which is where the racking is (eA − eB + eC − eD) / 4.
clamps: as the clamps happened to pull.

With unequal opposite sides the corners differ by more than racking: to first order δB has (CD − AB) / BC and δD has
(BC − DA) / AB besides, so that δA is the racking and half of their sum. From δA on all is exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.job.expression.tree import Node, PartSize
from trued.job.geometry.assembly_squaring import Squaring, tape_difference_u
from trued.job.geometry.fit_geometry import BuiltGeometry, LimitPlace, Q
from trued.job.geometry.number import cosine, far, root, sine
from trued.job.geometry.unmeasured_errors import ASKEW, TAPED
from trued.measure.estimate import Shape, UncertainValue


@dataclass(frozen=True, slots=True)
class Diagonals:
    """AC less BD of a frame with sides `across` (bottom AB, top DC) and `up` (AD, BC), outside to outside.

    ends:  bottom and top part, whose ends butt against the uprights: end 1 of the bottom at A, end 2 at B; the top is
           turned about with its reference edge outward as well: end 1 at C, end 2 at D.
    flat:  the frame lies flat, so that the ends' angle across their width counts; else it is a box, and their angle
           through the thickness does, which the blade tilt gives.
    """

    across: tuple[Node, Node]
    up: tuple[Node, Node]
    squared: Squaring
    ends: tuple[PartSize, ...] = ()
    flat: bool = True

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes that it rests on."""
        return *self.across, *self.up, *self.ends

    @property
    def straight(self) -> bool:
        """Diagonals are roots of sums of squares."""
        return False

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """Bottom, top, upright AD, upright BC, racking; by the tape nothing but what a tape cannot show."""
        if self.squared is Squaring.TAPE:
            return (made.own("tape", TAPED, tape_difference_u(made), Shape.RECTANGULAR),)
        sizes = tuple(made.size(node, ends=False) for node in (*self.across, *self.up))
        if self.squared is Squaring.CLAMPS:
            return *sizes, made.own("racked", ASKEW, made.budget.untaught.askew_rad)
        cut = made.lean if self.flat else made.tilt
        a, b, c, d = (cut(part, end) for part in self.ends for end in (1, 2))
        return *sizes, (a - b + c - d) * 0.25

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """One difference."""
        if len(x) == 1:
            return (LimitPlace(x[0]),)
        first, second = diagonals(*x)
        return (LimitPlace(first - second),)


def diagonals(bottom: Q, top: Q, near: Q, away: Q, racking: Q) -> tuple[Q, Q]:
    """AC and BD of a frame with sides AB, DC, AD, BC and that racking in rad."""
    lean = racking + 0.5 * ((top - bottom) / away + (away - near) / bottom)
    dx, dy = -(near * sine(lean)), near * cosine(lean)
    across = far(dx - bottom, dy)
    along = (away * away - top * top + across * across) / (2.0 * across)
    out = root(away * away - along * along)
    ux, uy = (dx - bottom) / across, dy / across
    return far(bottom + along * ux + out * uy, along * uy - out * ux), across


def remainder_mm(bottom: float, near: float, largest_rad: float) -> float:
    """How far a difference of diagonals may be from what is exact, when no angle is over `largest_rad` (second order).

    The rule for the racking was solved to first order: what is left of it is below the square of the angles, and a
    difference of diagonals follows racking by 2 AB · AD / diagonal, which is below AB + AD.
    """
    return (bottom + near) * 2.0 * largest_rad**2
