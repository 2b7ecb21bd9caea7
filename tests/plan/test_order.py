"""The order of cuts of whole jobs: settings counted by hand, parents first, long before short, mates at one setting."""

from itertools import groupby

import pytest
from tests.plan.planned import cut, inch, planned, used

from trued.plan.layout.cut_tree import Axis, Cut, Sized, cuts
from trued.plan.order.order import Order, key_of, order_cuts
from trued.plan.stations.station import Reach, Station, station_for

JOBS = ("rack", "rack_scaled", "drawers", "drawers_scaled", "carcass", "carcass_scaled")


def stops(order: Order, station: Station) -> list[float]:
    """The settings of a station in the order in which they are made, in inches."""
    made = [(done.setting, done.task.key[1]) for done in order.cuts if done.task.key[0] is station and done.task.key[1]]
    return [size / inch(1) for (_, size), _ in groupby(made)]


def test_rack_takes_three_stops_and_two_rips() -> None:
    # By hand: stop 30, 13 3/8, 12 57/64; rip 3 1/2 and 3.
    order = planned("rack").order
    assert stops(order, Station.SLED) == pytest.approx([30, 13.3754, 12.891], abs=1e-3)
    assert stops(order, Station.RIP) == pytest.approx([3.5, 3])
    assert (order.settings, order.bound, order.walks) == (5, 5, 2)  # the board is squared on the floor


def test_rack_with_every_size_larger_takes_as_many() -> None:
    order = planned("rack_scaled").order
    assert stops(order, Station.SLED) == pytest.approx([1.037 * 30, 1.037 * 13.3754, 1.037 * 12.891], abs=1e-3)
    assert (order.settings, order.bound) == (5, 5)


@pytest.mark.parametrize("name", JOBS)
def test_every_cut_is_made_once_and_after_the_one_that_frees_its_piece(name: str) -> None:
    order = planned(name).order
    trees = [here.tree for here in planned(name).layout.used]
    assert sorted(id(done.task.cut) for done in order.cuts) == sorted(id(c) for tree in trees for c in cuts(tree))
    made: set[int] = set()
    for done in order.cuts:
        parents = [c for tree in trees for c in cuts(tree) if done.task.cut in (c.low, c.high)]
        assert any(id(parent) in made for parent in parents) or not parents
        made.add(id(done.task.cut))


@pytest.mark.parametrize("name", JOBS)
def test_settings_are_as_few_as_the_bound_allows(name: str) -> None:
    order = planned(name).order
    assert order.settings == order.bound == max(done.setting for done in order.cuts)


@pytest.mark.parametrize("name", JOBS)
def test_no_setting_is_touched_between_its_cuts(name: str) -> None:
    for station in (Station.SLED, Station.RIP):
        numbers = [done.setting for done in planned(name).order.cuts if done.task.key[0] is station and done.setting]
        assert len(list(groupby(numbers))) == len(set(numbers))


def test_long_pieces_are_ripped_before_short_ones() -> None:
    runs = [done.task.cut.run for done in planned("rack").order.cuts if done.task.key == (Station.RIP, inch(3.5))]
    assert runs == sorted(runs, reverse=True)


def test_mates_follow_one_another() -> None:
    names = [done.task.cut.low for done in planned("rack").order.cuts if done.task.key == (Station.RIP, inch(3.5))]
    assert [leaf.want for leaf in names if leaf is not None and hasattr(leaf, "want")][:2] == ["side", "side"]


def test_trim_rip_sets_the_fence_to_its_good_side_and_a_trim_on_the_sled_sets_nothing() -> None:
    reach = Reach(crosscut=inch(14), rip=inch(22.25))
    low_is_good = cut(Axis.ALONG, 40, 6, 5, sized=Sized.NONE)
    assert key_of(low_is_good, station_for(low_is_good, reach)) == (Station.RIP, inch(5))
    whole = cut(Axis.ALONG, 40, 6, 5)
    flipped = Cut(whole.piece, whole.axis, whole.position, whole.kerf, whole.high, whole.low, Sized.NONE)
    assert key_of(flipped, station_for(flipped, reach)) == (Station.RIP, inch(6 - 5 - 0.125))
    assert key_of(cut(Axis.ACROSS, 40, 6, 1, sized=Sized.NONE), Station.SLED) == (Station.SLED, None)
    assert key_of(cut(Axis.ACROSS, 90, 48, 40), Station.FLOOR) == (Station.FLOOR, None)


def test_one_cut_is_an_order() -> None:
    order = order_cuts([used(cut(Axis.ACROSS, 30, 4, 10))], Reach())
    assert (order.settings, order.bound, order.walks, len(order.cuts)) == (1, 1, 0, 1)


def test_nothing_to_cut_is_an_order_too() -> None:
    assert order_cuts([], Reach()) == Order((), 0, 0, 0)
