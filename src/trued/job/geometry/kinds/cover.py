"""A flat piece laid over another with an overhang: a face frame on its carcass, a lid on its box.

Both are frames with straight sides, laid with their middles together as well as the hand can. Either may be racked:
then its upright sides lean, and the overhang differs from corner to corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.job.expression.tree import Node
from trued.job.geometry.assembly_squaring import Squaring
from trued.job.geometry.fit_geometry import BuiltGeometry, LimitPlace, Q
from trued.job.geometry.number import cosine, sine, tangent
from trued.job.geometry.unmeasured_errors import PLACE
from trued.measure.estimate import UncertainValue


@dataclass(frozen=True, slots=True)
class Cover:
    """Overhang of `over` on `under`, each (across, up), outside sizes.

    all_round: also over the other two sides (a lid); a face frame is judged at its uprights alone.
    over_squared, under_squared: how either was brought square.
    """

    over: tuple[Node, Node]
    under: tuple[Node, Node]
    all_round: bool
    over_squared: Squaring = Squaring.TAPE
    under_squared: Squaring = Squaring.TAPE

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes that it rests on."""
        return *self.over, *self.under

    @property
    def straight(self) -> bool:
        """Racking goes in by sines."""
        return False

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """Sizes of both, how far aside and up it was laid, racking of both."""
        over, under = (tuple(made.size(node) for node in pair) for pair in (self.over, self.under))
        u = made.budget.untaught.place_mm
        laid = (made.own(name, PLACE, u) for name in ("aside", "up"))
        racked = self.over_squared.racking(made, "over", *over), self.under_squared.racking(made, "under", *under)
        return *over, *under, *laid, *racked

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """At the four corners of what lies under, seen across; of a lid also above and below."""
        across, up, under_across, under_up, aside, raised, lean, under_lean = x
        half = 0.5 * under_up * cosine(under_lean)
        each = 0.5 * (across - under_across)
        aside = aside - raised * tangent(lean)
        shift = half * tangent(lean) - 0.5 * under_up * sine(under_lean)
        sides = (
            LimitPlace(each + aside + shift, "top, one side"),
            LimitPlace(each - aside - shift, "top, other side"),
            LimitPlace(each + aside - shift, "bottom, one side"),
            LimitPlace(each - aside + shift, "bottom, other side"),
        )
        if not self.all_round:
            return sides
        above = 0.5 * up * cosine(lean) - half
        return *sides, LimitPlace(above + raised, "at the top"), LimitPlace(above - raised, "at the bottom")
