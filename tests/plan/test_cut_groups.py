"""Which settings made which copy, and what they were set to: what the error budget rests on."""

from dataclasses import replace

import pytest
from tests.plan.planned import inch, planned, shop

from trued.job.expression.tree import Side
from trued.job.groups import GUIDED_SAW, RIP_FENCE, SLED, CutGroup
from trued.plan.layout.cut_tree import Axis, Cut, Part, Used, Waste
from trued.plan.layout.pieces import Rect, Stock, to_mm
from trued.plan.order.cut_groups import groups_of
from trued.plan.order.order import order_cuts
from trued.plan.order.scale_settings import settings_of
from trued.plan.stations.station import Reach
from trued.standing.cuts.cut_errors import CutErrors, assumed_capability

MIL = 0.0254


def capability(offset_mm: float = 0.0, rip_mm: float = 0.0) -> CutErrors:
    holds = assumed_capability(shop())
    return replace(holds, stop_offset=holds.stop_offset + offset_mm, rip_offset=holds.rip_offset + rip_mm)


def test_copies_of_the_rack_share_the_settings_that_made_them() -> None:
    here = planned("rack")
    groups = groups_of(here.layout.used, here.order)
    assert groups["side", 1] == groups["side", 2] == CutGroup("S1", "S4", SLED, "B1/1", RIP_FENCE)
    assert len({groups["shelf", copy] for copy in range(1, 5)}) == 1
    assert groups["rail", 1].length_setting == "S3" and groups["rail", 1].width_setting == "S5"
    assert len(groups) == 8


def test_guided_cuts_share_nothing() -> None:
    here = planned("carcass")
    groups = groups_of(here.layout.used, here.order)
    assert groups["side", 1].station == GUIDED_SAW
    assert groups["side", 1].length_setting != groups["side", 2].length_setting


def test_size_that_the_stock_has_already_is_no_setting() -> None:
    # A board of the part's own width, cut to length.
    whole, width = Rect(0, 0, inch(30), inch(4)), inch(4)
    part, rest = Rect(0, 0, inch(10), width), Rect(inch(10.125), 0, inch(19.875), width)
    tree = Cut(whole, Axis.ACROSS, inch(10), inch(0.125), Part(part, "leg", 1), Waste(rest))
    board = (Used(Stock("B", inch(30), width), 2, tree),)
    group = groups_of(board, order_cuts(board, Reach()))["leg", 1]
    assert group == CutGroup("S1", "", SLED, "B/2", "")


def test_turned_part_gets_its_length_from_a_rip() -> None:
    whole = Rect(0, 0, inch(40), inch(20))
    part, rest = Rect(0, 0, inch(40), inch(12)), Rect(0, inch(12.125), inch(40), inch(7.875))
    tree = Cut(whole, Axis.ALONG, inch(12), inch(0.125), Part(part, "panel", 1, turned=True), Waste(rest))
    board = (Used(Stock("P", inch(40), inch(20)), 1, tree),)
    group = groups_of(board, order_cuts(board, Reach()))["panel", 1]
    assert (group.length_setting, group.station, group.width_setting) == ("S1", RIP_FENCE, "")


def test_readings_are_corrected_and_lie_on_the_scale() -> None:
    here = planned("rack")
    readings = settings_of(here.layout.used, here.order, capability(offset_mm=20 * MIL, rip_mm=-40 * MIL))
    inches = {number: setting.reading_mm / 25.4 for number, setting in readings.items()}
    # Parts come out 0.020 long, so the stop goes 1/64 (0.0156) lower; rips come out 0.040 narrow: 3/64 (0.0469) higher.
    assert inches[1] == pytest.approx(30 - 1 / 64)
    assert inches[2] == pytest.approx(13.375 - 1 / 64)
    assert inches[4] == pytest.approx(3.5 + 3 / 64)
    assert all(value * 64 == pytest.approx(round(value * 64)) for value in inches.values())
    assert readings[1].remainder_mm == pytest.approx((20 - 1000 / 64) * MIL, abs=1e-2)


def test_groups_carry_the_readings() -> None:
    here = planned("rack")
    readings = settings_of(here.layout.used, here.order, capability())
    group = groups_of(here.layout.used, here.order, readings)["shelf", 3]
    assert group.length_reading_mm == readings[2].reading_mm
    assert group.width_reading_mm == readings[4].reading_mm


def test_part_that_may_never_be_over_is_never_set_over() -> None:
    here = planned("rack")
    holds = capability(offset_mm=-9 * MIL)  # parts come out short: the nearest division lies above
    nearest = settings_of(here.layout.used, here.order, holds)
    down = settings_of(here.layout.used, here.order, holds, {("rail", Side.LENGTH): "down"})
    assert nearest[3].remainder_mm > 0 > down[3].remainder_mm
    assert {number for number in down if down[number] != nearest[number]} == {3}


def test_parts_at_one_setting_that_stand_against_each_other_take_the_nearest_division() -> None:
    here = planned("rack")
    holds = capability(rip_mm=5 * MIL)
    both = {("side", Side.WIDTH): "down", ("shelf", Side.WIDTH): "up"}
    free = settings_of(here.layout.used, here.order, holds)
    assert settings_of(here.layout.used, here.order, holds, both) == free  # type: ignore[arg-type]
    assert to_mm(inch(3.5)) == pytest.approx(free[4].reading_mm + 5 * MIL - free[4].remainder_mm)
