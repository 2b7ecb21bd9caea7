"""What closes a station whatever a person types: a blade that does not suit, a knife or fence shown to be out."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from tests.plan.planned import cut, shop

from trued.advice.closures import INSERT
from trued.equipment.saw import Blade
from trued.measure.decision import Conformity
from trued.measure.estimate import UncertainValue
from trued.plan.layout.cut_tree import Axis
from trued.plan.problem import problems_of_shop
from trued.plan.stations.reach import FOR_RIPS, bans_of, reach_of
from trued.plan.stations.station import Station, station_for
from trued.standing.bans import narrowest
from trued.standing.feature_status import FeatureStatus


def stands(feature: str, decision: Conformity) -> FeatureStatus:
    return FeatureStatus(
        f"saw.{feature}", "mm", UncertainValue(0.0), None, 0.0, decision, datetime(2026, 5, 4, tzinfo=UTC), 2
    )


@pytest.mark.parametrize("feature", FOR_RIPS)
def test_what_is_out_takes_the_rip_fence_out_of_use(feature: str) -> None:
    """Hard refusals of the trade (common practice): toe-in, pinch, a knife too thick, too thin or absent."""
    out = (stands(feature, Conformity.PROVEN_OUT),)
    assert not reach_of(shop(), standings=out).fence and reach_of(shop(), standings=out).sled
    found = [problem for problem in problems_of_shop(bans_of(shop(), out)) if problem.code == "safety-out"]
    assert len(found) == 1 and found[0].not_good


@pytest.mark.parametrize("feature", FOR_RIPS)
def test_a_rip_on_the_sled_needs_blade_and_knife_but_not_the_fence(feature: str) -> None:
    out = (stands(feature, Conformity.PROVEN_OUT),)
    of_the_fence = feature in ("rip-toe", "rip-fence-angle")
    reach = reach_of(shop(), standings=out)
    assert reach.sled_rips is of_the_fence
    assert station_for(cut(Axis.ALONG, 11, 7, 3), reach) is (Station.SLED if of_the_fence else Station.HAND)
    assert station_for(cut(Axis.ACROSS, 30, 7, 10), reach) is Station.SLED
    (said,) = (problem.text for problem in problems_of_shop(bans_of(shop(), out)) if problem.code == "safety-out")
    assert said.endswith("at the rip fence." if of_the_fence else "at the rip fence or on the sled.")


@pytest.mark.parametrize("feature", INSERT)
def test_an_insert_that_is_out_takes_the_saw_out_of_use(feature: str) -> None:
    """All work, and the sled too, slides over it."""
    out = (stands(feature, Conformity.PROVEN_OUT),)
    reach = reach_of(shop(), standings=out)
    assert not reach.fence and not reach.sled
    (found,) = [problem for problem in problems_of_shop(bans_of(shop(), out)) if problem.code == "insert"]
    assert found.not_good and found.text.endswith("No cut is planned on the saw.")


@pytest.mark.parametrize("decision", [Conformity.PROVEN_IN, Conformity.NOT_PROVEN])
def test_what_is_not_shown_out_is_a_caution_not_a_ban(decision: Conformity) -> None:
    assert reach_of(shop(), standings=(stands("rip-toe", decision),)).fence


@pytest.mark.parametrize(
    ("blade", "saw", "fits"),
    [
        ({"diameter_mm": 305.0}, {"largest_blade_mm": 254.0}, False),
        ({"diameter_mm": 254.0}, {"largest_blade_mm": 254.0}, True),
        ({"max_speed_rpm": 4500.0}, {"speed_rpm": 5000.0}, False),
        ({"max_speed_rpm": 7000.0}, {"speed_rpm": 5000.0}, True),
        ({"bore_mm": 30.0}, {"arbor_mm": 15.875}, False),
        ({"bore_mm": 15.88}, {"arbor_mm": 15.875}, True),
        ({"bore_mm": 30.0}, {}, True),  # an arbor that nobody has measured is not judged
    ],
)
def test_a_blade_that_does_not_suit_the_saw_closes_it(
    blade: dict[str, float], saw: dict[str, float], fits: bool
) -> None:
    here = shop()
    assert here.saw is not None
    bare = replace(here.saw, largest_blade_mm=None, speed_rpm=None, arbor_mm=None)
    other = replace(here, saw=replace(bare, **saw), blade=Blade("other", **blade))
    reach = reach_of(other)
    assert (reach.sled, reach.fence) == (fits, fits)
    assert ("blade" in [problem.code for problem in problems_of_shop(bans_of(other))]) is not fits


def kerf_found(mm: float, *, waits: bool = False, stale: bool = False) -> FeatureStatus:
    return replace(
        stands("rip-toe", Conformity.NOT_PROVEN),
        feature="blade.kerf",
        x=UncertainValue(mm),
        decision=None,
        runs=0 if waits else 2,
        unread="run" if waits else "",
        stale=("another blade",) if stale else (),
    )


@pytest.mark.parametrize(
    ("typed", "found", "narrowest_mm"),
    [
        (None, (), 2.3876),  # as marked on the blade, 0.094 in
        (1.905, (), 1.905),  # typed with --kerf, or measured, it closes
        (3.3, (), 2.3876),  # typed wider, it opens nothing
        (2.6, (kerf_found(2.6),), 2.6),  # found wider, it counts
        (None, (kerf_found(2.1),), 2.1),
        (2.6, (kerf_found(2.6, waits=True),), 2.3876),  # one that waits to be confirmed opens nothing
        (None, (kerf_found(2.0, waits=True),), 2.0),  # and may close
        (None, (kerf_found(2.0, stale=True),), 2.3876),  # of the blade before: the mark counts, and rips are closed
    ],
)
def test_the_knife_is_held_against_the_narrowest_kerf_that_is_told(
    typed: float | None, found: tuple[FeatureStatus, ...], narrowest_mm: float
) -> None:
    """It was held against the marked kerf alone, and a kerf of 0.075 under a knife of 0.083 let 8 rips through."""
    assert narrowest(shop(), found, typed) == pytest.approx(narrowest_mm)
    knife = replace(shop(), saw=replace(shop().saw, knife_mm=narrowest_mm))  # type: ignore[type-var]
    assert not reach_of(knife, standings=found, kerf_mm=typed).sled_rips
