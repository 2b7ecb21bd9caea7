"""Where a cut may be made; the rules are common practice of the trade."""

from dataclasses import replace

import pytest
from tests.plan.planned import cut, inch, shop

from trued.equipment.saw import Blade, Saw
from trued.equipment.shop import Shop
from trued.plan.layout.cut_tree import Axis, Sized
from trued.plan.stations.reach import bans_of, reach_of
from trued.plan.stations.station import Reach, Station, needs_holding, station_for

REACH = Reach(crosscut=inch(14), rip=inch(22.25), least_rip=inch(12))
ACROSS, ALONG = Axis.ACROSS, Axis.ALONG


@pytest.mark.parametrize(
    ("axis", "length", "width", "at", "station"),
    [
        (ACROSS, 72, 7.25, 30, Station.SLED),  # a crosscut within the sled's depth
        (ACROSS, 16, 14, 8, Station.SLED),  # just within it
        (ACROSS, 30, 15.25, 20, Station.FLOOR),  # deeper than the sled, and wider than long against the fence
        (ACROSS, 20, 24, 15, Station.RIP),  # deeper than the sled, but the longer edge rides the fence
        (ALONG, 30, 7.25, 3.5, Station.RIP),  # a rip longer than wide
        (ALONG, 12, 7.25, 3.5, Station.RIP),  # of the least length
        (ALONG, 11.9, 7.25, 3.5, Station.SLED),  # too short for the fence: across the sled
        (ALONG, 14, 24, 3, Station.SLED),  # wider than long against the fence, just within the sled's depth
        (ALONG, 20, 24, 3, Station.FLOOR),  # wider than long against the fence, too deep for the sled
        (ALONG, 40, 30, 26, Station.FLOOR),  # the fence does not reach that far
        (ALONG, 40, 30, 20, Station.RIP),
        (ALONG, 96, 48, 15.25, Station.FLOOR),  # a whole sheet is cut on the floor
        (ACROSS, 96, 48, 30, Station.FLOOR),
    ],
)
def test_station_of_a_cut(axis: Axis, length: float, width: float, at: float, station: Station) -> None:
    assert station_for(cut(axis, length, width, at), REACH) is station


def test_without_a_sled_a_crosscut_is_guided_and_what_is_too_small_for_that_is_sawn_by_hand() -> None:
    bare = replace(REACH, sled=False)
    assert station_for(cut(ACROSS, 72, 7.25, 30), bare) is Station.FLOOR
    assert station_for(cut(ACROSS, 10, 5, 3), bare) is Station.HAND
    assert station_for(cut(ALONG, 10, 5, 3), bare) is Station.HAND


def test_reach_that_is_not_known_is_not_held_against_a_cut() -> None:
    assert reach_of(None) == Reach()
    assert station_for(cut(ACROSS, 30, 30, 20), Reach()) is Station.SLED
    assert station_for(cut(ALONG, 90, 30, 28), Reach()) is Station.RIP


def test_a_sled_of_unknown_depth_takes_no_rip_longer_than_what_the_fence_cannot_guide() -> None:
    no_fence = Reach(fence=False)
    assert station_for(cut(ALONG, 12, 7.25, 3.5), no_fence) is Station.SLED
    assert station_for(cut(ALONG, 72, 7.25, 3.5), no_fence) is Station.FLOOR


def test_reach_of_the_example_shop() -> None:
    assert replace(reach_of(shop()), bench=None) == Reach(True, inch(14), True, inch(22.25), inch(12))
    assert bans_of(shop()) == ()


def test_sled_that_the_maker_forbids_is_not_planned_with() -> None:
    saw = shop().saw
    assert saw is not None
    forbidding = replace(shop(), saw=replace(saw, maker_forbids=("crosscut-sled",)))
    assert not reach_of(forbidding).sled
    assert [ban.code for ban in bans_of(forbidding)] == ["maker-forbids"]
    assert "forbids a crosscut sled" in bans_of(forbidding)[0].text


def test_sled_whose_metal_stands_in_the_blades_way_is_not_planned_with() -> None:
    sled = shop().sled
    assert sled is not None
    sizes = {"pivot_beside": 50.0, "metal_end": 40.0, "metal_front": 10.0, "metal_back": 10.0}
    for end, closed in ((40.0, False), (46.0, True)):  # nearer than 3/16 in to the middle of the blade
        other = replace(sled, facts=dict(sled.facts) | sizes | {"metal_end": end})
        here = replace(shop(), fixtures=(other,))
        assert [ban.code for ban in bans_of(here)] == (["metal"] if closed else [])
        assert reach_of(here).sled is not closed


def test_shop_without_a_sled_says_so() -> None:
    assert [ban.code for ban in bans_of(replace(shop(), fixtures=()))] == ["no-sled"]


@pytest.mark.parametrize(
    ("knife", "rips", "said"),
    [
        (2.1, True, ""),
        (None, True, ""),
        (0.0, False, "no riving knife"),
        (2.5, False, "as thick as the kerf"),
        (1.7, False, "no thicker than the blade's plate"),
    ],
)
def test_no_rip_at_the_fence_without_a_knife_between_plate_and_kerf(knife: float | None, rips: bool, said: str) -> None:
    here = Shop(saw=Saw("saw", knife_mm=knife), blade=Blade("b", plate_mm=1.7, kerf_mm=2.4), fixtures=shop().fixtures)
    assert reach_of(here).fence is rips
    assert said in " ".join(ban.text for ban in bans_of(here))
    assert station_for(cut(ALONG, 30, 7.25, 3.5), reach_of(here)) is (Station.RIP if rips else Station.FLOOR)
    assert station_for(cut(ALONG, 11, 7.25, 3.5), reach_of(here)) is (Station.SLED if rips else Station.HAND)


def test_knife_of_a_saw_whose_blade_is_not_described_is_not_judged() -> None:
    assert reach_of(Shop(saw=Saw("saw", knife_mm=2.1))).fence


def test_short_keeper_needs_holding() -> None:
    assert needs_holding(cut(ACROSS, 30, 4, 5.9))
    assert not needs_holding(cut(ACROSS, 30, 4, 6))
    assert not needs_holding(cut(ACROSS, 30, 4, 1, sized=Sized.NONE))
