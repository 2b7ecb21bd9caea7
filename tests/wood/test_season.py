"""The gap in August: hand-worked cases of drawer fronts and of a pair of doors, in inches."""

import pytest

from trued.wood.moisture import MoistureRange
from trued.wood.movement import Grain
from trued.wood.season import GapThroughYear, Held, Neighbour, gap_through_year

INCH = 25.4
AT_8 = MoistureRange(8, 8)
FOUR_MORE = MoistureRange(8, 12)  # between 6 and 14 %, so eq. 13-2 and the hand sums' straight line
THIRTY_SECONDS_3 = 3 / 32


def front(height: float, grain: Grain = Grain.FLATSAWN) -> Neighbour:
    """A drawer front of hard maple, held in its middle."""
    return Neighbour(height * INCH, "hard maple", grain, Held.MIDDLE, AT_8)


def narrowest_in(*heights: float, grain: Grain = Grain.FLATSAWN, year: MoistureRange = FOUR_MORE) -> float:
    gap = gap_through_year(THIRTY_SECONDS_3 * INCH, tuple(front(h, grain) for h in heights), year)
    return gap.narrowest_mm / INCH


def test_four_gaps_between_three_drawer_fronts() -> None:
    """Fronts 4, 4 7/8 and 5 3/4 with gaps of 3/32; at +4 % there are .066, .031, .019 and .053 left."""
    left = [narrowest_in(4), narrowest_in(4, 4.875), narrowest_in(4.875, 5.75), narrowest_in(5.75)]
    assert left == pytest.approx([0.066, 0.031, 0.019, 0.053], abs=0.0006)


def test_quartersawn_fronts() -> None:
    quarter = Grain.QUARTERSAWN
    left = [
        narrowest_in(4, grain=quarter),
        narrowest_in(4, 4.875, grain=quarter),
        narrowest_in(4.875, 5.75, grain=quarter),
        narrowest_in(5.75, grain=quarter),
    ]
    assert left == pytest.approx([0.081, 0.064, 0.059, 0.075], abs=0.001)


def test_in_a_damper_year_the_third_gap_closes() -> None:
    """5.3125 × .00353 × 5.1 = .0956: touches by .002."""
    year = MoistureRange(8, 13.1)
    assert narrowest_in(4.875, 5.75, year=year) == pytest.approx(-0.002, abs=0.0002)
    gap = gap_through_year(THIRTY_SECONDS_3 * INCH, (front(4.875), front(5.75)), year)
    assert gap.touches


def test_two_doors_hinged_outside_bind_in_the_middle() -> None:
    """Red oak stiles, 4 in of solid wood a door, all growth into the centre gap: −.024 flatsawn, +.043 quartersawn."""
    for grain, left in ((Grain.FLATSAWN, -0.024), (Grain.QUARTERSAWN, 0.043)):
        door = Neighbour(4 * INCH, "red oak", grain, Held.FAR_EDGE, AT_8)
        gap = gap_through_year(THIRTY_SECONDS_3 * INCH, (door, door), FOUR_MORE)
        assert gap.narrowest_mm / INCH == pytest.approx(left, abs=0.0006)
    zero = gap_through_year(
        THIRTY_SECONDS_3 * INCH,
        (Neighbour(4 * INCH, "red oak", Grain.FLATSAWN, Held.FAR_EDGE, AT_8),) * 2,
        MoistureRange(8, 11.2),
    )
    assert zero.narrowest_mm / INCH == pytest.approx(0, abs=0.001)


def test_which_edge_is_held_decides() -> None:
    def left(held: Held) -> float:
        door = Neighbour(4 * INCH, "red oak", Grain.FLATSAWN, held, AT_8)
        return gap_through_year(2.0, (door,), FOUR_MORE).narrowest_mm

    assert left(Held.GAP_EDGE) == 2.0
    assert left(Held.MIDDLE) == pytest.approx((2.0 + left(Held.FAR_EDGE)) / 2)


def test_unmeasured_moisture_gives_a_wet_and_a_dry_case() -> None:
    measured = gap_through_year(2.0, (front(5.75),), FOUR_MORE)
    unmeasured = gap_through_year(2.0, (Neighbour(5.75 * INCH, "hard maple", Grain.FLATSAWN, Held.MIDDLE),), FOUR_MORE)
    assert measured.measured and not unmeasured.measured
    assert measured.widest_mm == 2.0  # made at the dry end: it can only grow
    assert unmeasured.widest_mm > 2.0 and unmeasured.narrowest_mm == pytest.approx(measured.narrowest_mm)


def test_a_loose_name_takes_the_worst_of_its_woods() -> None:
    loose = Neighbour(100, "maple", Grain.FLATSAWN, Held.FAR_EDGE, AT_8).growth_mm(FOUR_MORE)
    each = [
        Neighbour(100, name, Grain.FLATSAWN, Held.FAR_EDGE, AT_8).growth_mm(FOUR_MORE)[1]
        for name in ("sugar maple", "red maple", "silver maple", "bigleaf maple")
    ]
    assert loose[1] == max(each)


def test_lively_boards_leave_less() -> None:
    grows = gap_through_year(2.0, (front(5.75),), FOUR_MORE)
    assert grows.narrowest_of_lively_boards_mm < grows.narrowest_mm
    shrinks = gap_through_year(
        2.0, (Neighbour(100, "walnut", Grain.FLATSAWN, Held.FAR_EDGE, MoistureRange(12, 12)),), MoistureRange(7, 10)
    )
    assert 2.0 < shrinks.narrowest_of_lively_boards_mm < shrinks.narrowest_mm


def test_the_gap_to_make_now() -> None:
    gap = GapThroughYear(narrowest_mm=-0.5, widest_mm=2.4, narrowest_of_lively_boards_mm=-0.9, measured=True)
    assert gap.gap_to_make_mm(2.4, 0.5) == pytest.approx(3.4)
