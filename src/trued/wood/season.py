"""Will the drawer or door still move in August? What is left of a gap through the year.

A part grows away from where it is held: a hinged door grows wholly toward its free edge, a drawer front held in the
middle grows half each way. Which edge is held must be asked, never assumed.
"""

from dataclasses import dataclass
from enum import StrEnum

from trued.wood.moisture import MoistureRange
from trued.wood.movement import BOARD_SPREAD, Grain, change_range_mm
from trued.wood.species import Species, species_named


class Held(StrEnum):
    """Where a part is held fast, seen from the gap in question."""

    FAR_EDGE = "at the edge away from the gap"
    MIDDLE = "in the middle"
    GAP_EDGE = "at the edge beside the gap"

    @property
    def share(self) -> float:
        """How much of the part's growth goes into the gap."""
        return {Held.FAR_EDGE: 1.0, Held.MIDDLE: 0.5, Held.GAP_EDGE: 0.0}[self]


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A solid-wood part beside a gap. made_at None: its moisture was not measured, it may be anything of the year.

    width_mm: across the grain, only what is solid wood (in a framed panel the stiles, not the plywood between).
    """

    width_mm: float
    species: str
    grain: Grain
    held: Held
    made_at: MoistureRange | None = None

    def growth_mm(self, year: MoistureRange) -> tuple[float, float]:
        """Least and greatest growth into the gap in mm; over all species that the name can mean."""
        begin = self.made_at or year
        ranges = [self._growth_mm(wood, begin, year) for wood in species_named(self.species)]
        return min(low for low, _ in ranges), max(high for _, high in ranges)

    def _growth_mm(self, wood: Species, begin: MoistureRange, year: MoistureRange) -> tuple[float, float]:
        low, high = change_range_mm(self.width_mm, wood, self.grain, begin, year)
        return self.held.share * low, self.held.share * high


@dataclass(frozen=True, slots=True)
class GapThroughYear:
    """What a gap becomes: narrowest and widest in mm for average boards of the species.

    narrowest_of_lively_boards_mm: the same if the boards are livelier than their species by one standard deviation.
    measured: False if the moisture of a part was not measured, so that the ends are a wet case and a dry case.
    """

    narrowest_mm: float
    widest_mm: float
    narrowest_of_lively_boards_mm: float
    measured: bool

    @property
    def touches(self) -> bool:
        """True if the gap closes in the dampest part of the year."""
        return self.narrowest_mm <= 0

    def gap_to_make_mm(self, gap_now_mm: float, wanted_mm: float) -> float:
        """The gap to make now so that `wanted_mm` is left when it is narrowest."""
        return gap_now_mm - self.narrowest_mm + wanted_mm


def gap_through_year(gap_mm: float, neighbours: tuple[Neighbour, ...], year: MoistureRange) -> GapThroughYear:
    """The range of a gap of `gap_mm` now, between the parts beside it, over the moistures of the year.

    What else bounds the gap (a frame, a plywood side) is taken as fixed.
    """
    growths = [part.growth_mm(year) for part in neighbours]
    most = sum(high for _, high in growths)
    return GapThroughYear(
        narrowest_mm=gap_mm - most,
        widest_mm=gap_mm - sum(low for low, _ in growths),
        narrowest_of_lively_boards_mm=gap_mm - most - BOARD_SPREAD * abs(most),
        measured=all(part.made_at is not None for part in neighbours),
    )
