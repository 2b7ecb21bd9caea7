"""An inset door in its opening: the gap at its free edge, at top and bottom, in the driest and the dampest season.

A door is held at its hinges, so all of its growth goes to the free edge; a pair of doors meet in the middle and the
growth of both does. Only solid wood moves: in a framed door with a plywood panel the stiles. The face frame is taken
as fixed, and so is plywood.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.job.expression.tree import Node
from trued.job.geometry.assembly_squaring import Squaring
from trued.job.geometry.fit_geometry import BuiltGeometry, LimitPlace, Q
from trued.job.geometry.number import sine
from trued.job.geometry.unmeasured_errors import LIVELY, PLACE
from trued.measure.estimate import UncertainValue
from trued.wood.moisture import MoistureRange
from trued.wood.movement import BOARD_SPREAD, Grain
from trued.wood.season import Held, Neighbour


@dataclass(frozen=True, slots=True)
class Season:
    """What moves in one door: `solid_mm` of that wood across its grain, from the moisture it was made at, over a year.

    made_at None: nobody measured it, it may be anything of the year.
    """

    wood: str
    grain: Grain
    solid: Node
    year: MoistureRange
    made_at: MoistureRange | None = None
    held: Held = Held.FAR_EDGE

    def growth_mm(self, solid_mm: float) -> tuple[float, float]:
        """Least and greatest growth toward the gap through the year, of average boards."""
        return Neighbour(solid_mm, self.wood, self.grain, self.held, self.made_at).growth_mm(self.year)


@dataclass(frozen=True, slots=True)
class Door:
    """Gap at the free edge of one door, or between the two of a pair.

    opening:  its width at the bottom and at the top. door: width of one. hinge: the gap at the hinge edge.
    leaves:   1, or 2 that meet in the middle.
    high:     the height of the door, where it hangs level in an opening that may be racked, `hinge` from its upright
              at half its height; None where it was hung along its hinge side, so that the gap there is even and the
              one at the top is not.
    squared:  how the frame of the opening was brought square.
    """

    opening: tuple[Node, Node]
    door: Node
    hinge: Node
    leaves: int = 1
    high: Node | None = None
    squared: Squaring = Squaring.TAPE
    season: Season | None = None

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes that it rests on."""
        more = [node for node in (self.high, self.season.solid if self.season else None) if node is not None]
        return *self.opening, self.door, self.hinge, *more

    @property
    def straight(self) -> bool:
        """A door hung along its hinge side is a plain sum."""
        return self.high is None

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """Opening at bottom and top, door, hinge gap as set, growth in the driest and dampest season, lean, height."""
        bottom, top = (made.size(node) for node in self.opening)
        hinge = made.size(self.hinge) + made.own("hinges", PLACE, made.budget.untaught.place_mm)
        sizes = bottom, top, made.size(self.door), hinge, *self._growth(made)
        if self.high is None:
            return sizes
        high = made.size(self.high)
        return *sizes, high, self.squared.racking(made, "opening", bottom, high)

    def _growth(self, made: BuiltGeometry) -> tuple[UncertainValue, UncertainValue]:
        """Boards of one species differ by about 15 %; both doors of a pair may come from one board."""
        if self.season is None:
            return UncertainValue(0.0), UncertainValue(0.0)
        livelier = made.own("wood", LIVELY, BOARD_SPREAD)
        dry, damp = self.season.growth_mm(made.size(self.season.solid).value)
        return (1.0 + livelier) * dry, (1.0 + livelier) * damp

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """At bottom and top, driest and dampest."""
        bottom, top, door, hinge, dry, damp, *level = x
        lean = 0.5 * level[0] * sine(level[1]) if level else 0.0 * door
        if level and self.leaves == 2:  # two plumb edges: their gap is the mean of the opening's, and even
            bottom = top = 0.5 * (bottom + top)
            lean = 0.0 * door
        found = []
        for season, growth in (("driest", dry), ("dampest", damp)):
            taken = self.leaves * (door + growth + hinge)
            found.append(LimitPlace(bottom - taken - lean, f"at the bottom, {season}"))
            found.append(LimitPlace(top - taken + lean, f"at the top, {season}"))
        return tuple(found)
