"""What stands against a plan, and the cautions of the plan as a whole."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from tests.plan.planned import KERF, cut, inch, job, planned, shop, used

from trued.equipment.saw import Saw
from trued.equipment.shop import Shop
from trued.job.fits.fit import FitResult
from trued.measure.decision import Conformity
from trued.measure.estimate import UncertainValue
from trued.plan import problem
from trued.plan.from_job import rules_of, stocks_of, wants_of
from trued.plan.lay_out import lay_out
from trued.plan.layout.cut_tree import Axis
from trued.plan.layout.pieces import to_mm
from trued.plan.layout.result import NoLayout
from trued.plan.order.order import Order, order_cuts
from trued.plan.order.scale_settings import settings_of
from trued.plan.stations.reach import bans_of, reach_of
from trued.plan.stations.station import Reach, Station
from trued.plan.tickets.job_cautions import cautions_for, safety_for, stop_cautions, unlooked
from trued.plan.tickets.split_settings import parted
from trued.plan.tickets.ticket import tickets
from trued.standing.cuts.cut_errors import assumed_capability
from trued.standing.feature_status import FeatureStatus


def in_inches(units: int) -> str:
    return f"{units / inch(1):.4f} in"


def test_rough_method_is_named_with_what_is_short() -> None:
    # 69.641 + 4 x 1/2 + 4 kerfs + 1/2 of end = 72.517 in of 72.
    rough = job("rack_rough")
    found = lay_out(stocks_of(rough), wants_of(rough), rules_of(rough, KERF))
    assert isinstance(found, NoLayout)
    (one,) = problem.problem_of_layout(rough, found, in_inches)
    assert one.code == "infeasible" and one.not_good
    assert "short by 0.517" in one.text
    assert "rough method: every blank is first cut 1/2 longer" in one.text


def test_mates_from_two_boards_are_told() -> None:
    layout = replace(planned("rack").layout, split=("sides",))
    (one,) = problem.problem_of_layout(job("rack"), layout, in_inches)
    assert (one.code, one.about, one.not_good) == ("pair-split", "sides", False)


def test_job_says_what_waits() -> None:
    found = {(one.code, one.about) for one in problem.problems_of_job(job("drawers"))}
    assert found == {("held-back", f"{size}_front") for size in ("low", "mid", "tall")}


def test_part_without_stock_is_named() -> None:
    bare = replace(job("rack"), stock=())
    found = list(problem.problems_of_job(bare))
    assert {one.code for one in found} == {"no-stock"} and len(found) == 3


def test_shop_that_is_not_known_and_one_whose_maker_forbids() -> None:
    assert [one.code for one in problem.problems_of_shop(None)] == ["no-shop"]
    saw = shop().saw
    assert saw is not None
    forbidding = replace(shop(), saw=replace(saw, maker_forbids=("crosscut-sled",)))
    assert [one.code for one in problem.problems_of_shop(bans_of(forbidding))] == ["maker-forbids"]
    assert list(problem.problems_of_shop(bans_of(shop()))) == []


def test_cut_that_no_station_may_make_and_mates_apart() -> None:
    here = planned("rack")
    order = order_cuts(here.layout.used, Reach(sled=False, fence=False, least_rip=inch(12)))
    made = tickets(order, None, "in")
    found = list(problem.problems_of_order(made, parted(here.job, here.layout.used, order)))
    assert {one.code for one in found} == {"pair-settings"}
    small = [replace(made[0], station=Station.HAND.value)]
    assert [one.code for one in problem.problems_of_order(small, ())] == ["by-hand"]
    waits = [replace(one, waits="Not known: saw: rip.") for one in made[1:3]]
    (fact,) = problem.problems_of_order(waits, ())
    assert (fact.code, fact.not_good) == ("fact-missing", True)
    assert fact.text == "T2, T3: no number before this is known. Not known: saw: rip."


@pytest.mark.parametrize(("chance", "said"), [(0.5, "50%"), (0.001, "under 1%"), (0.96, "")])
def test_fit_below_the_level_is_unlikely(chance: float, said: str) -> None:
    fit = FitResult("f", 0.0, 0.1, 9.0, chance, (-0.2, 0.2), {"stop scale": 1.0}, (), False, "", (-0.1, 0.1))
    found = list(problem.problems_of_fits([fit]))
    assert bool(found) is bool(said)
    assert all(said in one.text and "stop scale" in one.text for one in found)


@pytest.mark.parametrize("mean", [-0.2, 0.2])
def test_fit_that_is_meant_beyond_its_limits_is_no_matter_of_the_saw(mean: float) -> None:
    fit = FitResult("f", mean, 0.1, 9.0, 0.2, (-0.4, 0.4), {"stop scale": 1.0}, (), False, "", (-0.1, 0.1))
    (one,) = problem.problems_of_fits([fit])
    assert "beyond its limits" in one.text and "stop scale" not in one.text


def test_a_cut_that_the_sled_does_not_carry_is_made_elsewhere_and_the_plan_says_why() -> None:
    found = list(problem.problems_of_stations(planned("rack").order, "{:.0f} mm".format))
    assert [(one.code, one.about, one.not_good) for one in found] == [("other-station", "T1", False)]
    assert found[0].text.startswith("T1: made with the guided saw, for on the sled it is not carried:")


def test_cautions_go_with_the_stations_that_are_used() -> None:
    sled_only = cautions_for([Station.SLED], shop())
    assert any("stop stands on the keeper side" in said for said in sled_only)
    assert not any("Rips" in said for said in sled_only)
    assert any("floor over foam" in said for said in cautions_for([Station.FLOOR], None))
    assert cautions_for([], None)[0].startswith("The saw maker's manual")


def test_manual_that_nobody_has_read_and_blade_that_nobody_has_compared_come_before_the_first_cut() -> None:
    made = tickets(planned("rack").order, None, "in")
    saw = shop().saw
    assert saw is not None
    ((first, text),) = unlooked(made, shop(), ())
    assert first == "T2" and text.startswith("The insert was never checked here")
    unread = replace(shop(), saw=replace(saw, maker_forbids=None, speed_rpm=None))
    (manual, insert, blade) = unlooked(made, unread, ())
    assert manual[0] == insert[0] == blade[0] == "T2"  # the first cut on the saw
    assert "Nobody has said yet what the saw's maker forbids" in manual[1] and "by speed" in blade[1]
    assert unlooked(made[:1], unread, ()) == ()


def test_metal_of_which_one_place_alone_is_known_is_turned_by_hand_first() -> None:
    sled = shop().sled
    assert sled is not None
    here = replace(shop(), fixtures=(replace(sled, facts=dict(sled.facts) | {"metal_end": 20.0}),))
    _, (first, text) = unlooked(tickets(planned("rack").order, None, "in"), here, ())
    assert first == "T2" and "turn the blade by hand first" in text


def test_guard_that_must_stay_is_never_said_to_come_off() -> None:
    """One sheet said that the guard stays on for every cut, and that the manual allows it off."""
    guarded = cautions_for([Station.SLED], Shop(saw=Saw("saw", maker_forbids=("sled-without-guard",))))
    assert any("the guard stays on" in said for said in guarded)
    assert not any("guard off" in said for said in guarded)
    assert any("guard off" in said for said in cautions_for([Station.SLED], Shop(saw=Saw("saw", maker_forbids=()))))


def standing(decision: Conformity | None, *, stale: tuple[str, ...] = ()) -> FeatureStatus:
    now = datetime(2026, 5, 4, tzinfo=UTC)
    return FeatureStatus("saw.rip-toe", "mm", UncertainValue(0.0), None, None, decision, now, 2, stale)


def one_cut(axis: Axis, length: float, reach: Reach | None = None) -> Order:
    return order_cuts([used(cut(axis, length, 4, 2))], reach or reach_of(shop()))


def test_safety_items_of_a_rip_are_named_unless_shown_right() -> None:
    rip = one_cut(Axis.ALONG, 30)
    named = [one.feature for one in safety_for(rip, shop(), ())]
    assert named == [
        f"saw.{item}"
        for item in ("blade-parallel", "rip-toe", "rip-fence-angle", "knife", "knife-over-plate", "knife-under-kerf")
    ]
    shown = [one.feature for one in safety_for(rip, shop(), [standing(Conformity.PROVEN_IN)])]
    assert "saw.rip-toe" not in shown
    for doubtful in (
        standing(Conformity.NOT_PROVEN),
        standing(Conformity.PROVEN_IN, stale=("carried",)),
        standing(None),
    ):
        toe = [one for one in safety_for(rip, shop(), [doubtful]) if one.feature == "saw.rip-toe"]
        assert toe and "Not checked means not ready" in toe[0].text
    assert safety_for(one_cut(Axis.ACROSS, 30), shop(), ()) == ()
    assert safety_for(None, shop(), ()) == ()


def test_a_rip_on_the_sled_rests_on_blade_and_knife_but_not_on_the_rip_fence() -> None:
    named = [one.feature for one in safety_for(one_cut(Axis.ALONG, 11), shop(), ())]
    assert named == [f"saw.{item}" for item in ("blade-parallel", "knife", "knife-over-plate", "knife-under-kerf")]


def test_sizes_are_shown_in_the_persons_unit() -> None:
    assert in_inches(inch(0.517)) == "0.5170 in"
    assert to_mm(inch(1)) == pytest.approx(25.4)


def test_stop_past_the_end_of_the_sled_wants_an_arm() -> None:
    here = planned("rack")
    made = tickets(here.order, settings_of(here.layout.used, here.order, assumed_capability(shop())), "in")
    said = {ticket.id: stop_cautions(ticket, shop()) for ticket in made}
    assert [id for id, words in said.items() if words] == ["T2"]  # 30 in on a sled of 20
    assert stop_cautions(made[1], Shop()) == ()
