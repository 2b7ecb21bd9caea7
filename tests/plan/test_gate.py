"""May a station make a cut: blade height, what carries the work, first steps. Figures are worked by hand or by the
moments written beside them; lengths in inches, weights in pounds on the invented light saw of sled_s.py."""

import math
from dataclasses import replace

import pytest
from tests.plan.planned import cut, inch, planned, shop, used
from tests.plan.sled_s import INCH, POUND, SLED, TABLE

from trued.equipment.fixture import Fixture
from trued.equipment.saw import Blade as ShopBlade
from trued.equipment.shop import Shop
from trued.plan.layout.cut_tree import Axis, Sized, Used
from trued.plan.layout.pieces import Stock
from trued.plan.order.order import order_cuts
from trued.plan.stations.bench import Bench, bench_of, wings_left_out
from trued.plan.stations.gate import Leave, at_the_fence, by_hand, on_the_sled
from trued.plan.stations.reach import reach_of
from trued.plan.stations.refusal import RIP_HEAVY, RIP_TIPS, TIPS, TOO_THICK, Refusal
from trued.plan.stations.station import Station, ruling_for
from trued.plan.stations.steps import Do, Step, step_words
from trued.plan.support.sled_cut import Extension, Side
from trued.plan.support.statics import STANDARD_GRAVITY
from trued.plan.tickets.lost_parts import lost_parts
from trued.plan.tickets.sled_support import sled_support

S = Bench(
    radius_mm=4.75 * INCH,
    highest_mm=2.85 * INCH,
    base_mm=0.5 * INCH,
    knife_behind_mm=0.0,
    table=TABLE,
    far_mm=10.5 * INCH,
    operator_mm=11.5 * INCH,
    sled=SLED,
)
WING = Extension(Side.KEEPER, 12 * INCH, load_tested=True)
LB = POUND * STANDARD_GRAVITY


def stock(thick: float, material: str = "oak") -> Stock:
    return Stock("B", inch(200), inch(40), material=material, thickness=inch(thick))


def sled(thick: float, length: float = 15, width: float = 5, at: float = 12, **more: object) -> Leave | Refusal:
    bench = replace(S, **{name: value for name, value in more.items() if name != "sized"})  # type: ignore[arg-type]
    made = cut(Axis.ACROSS, length, width, at, sized=more.get("sized", Sized.LOW))  # type: ignore[arg-type]
    return on_the_sled(made, stock(thick), bench)


def fence(thick: float, length: float, width: float = 5.5, **more: object) -> Leave | Refusal:
    bench = replace(S, **more)  # type: ignore[arg-type]
    return at_the_fence(cut(Axis.ALONG, length, width, 2), stock(thick), bench, widest_known=True)


def steps(found: Leave | Refusal) -> list[Do]:
    assert isinstance(found, Leave)
    return [step.do for step in found.before]


@pytest.mark.parametrize(
    ("place", "thick", "order", "do"),
    [
        ("sled", 0.742, 1.492, Do.BLADE),
        ("sled", 2.1, 2.850, Do.BLADE),  # just
        ("sled", 2.15, 2.850, Do.BLADE_LOW),  # 2.900 does not go, 2.775 does: as high as it goes
        ("sled", 2.25, None, None),  # 1/8 over would be 2.875
        ("fence", 2.65, 2.850, Do.BLADE_LOW),  # 2.900 is over its reach, 2.775 is not
        ("fence", 2.75, None, None),
        ("fence", 1.5, 1.750, Do.BLADE),
    ],
)
def test_the_blade_stands_a_quarter_above_the_work_an_eighth_at_least(
    place: str, thick: float, order: float | None, do: Do | None
) -> None:
    """Base 1/2, reach 2.85: sums by hand; the two clearances are common practice."""
    found = sled(thick) if place == "sled" else fence(thick, 14)
    if order is None:
        assert isinstance(found, Refusal) and found.code == TOO_THICK
        assert found.wanted_mm == pytest.approx((thick + (0.5 if place == "sled" else 0) + 0.125) * INCH)
        assert "the saw reaches" in found.text("{:.1f} mm".format)
        return
    assert isinstance(found, Leave) and found.blade_mm == pytest.approx(order * INCH)
    assert found.before[0].do is do


@pytest.mark.parametrize(
    ("length", "press"),
    [(15.1, None), (15.3, 0.01), (20, 0.67), (24, 1.47), (29, 2.78), (30, "no"), (36, "no"), (48, "no")],
)
def test_the_end_of_a_rip_is_held_down_by_three_pounds_at_most(length: float, press: float | str | None) -> None:
    """Oak 5 1/2 × 3/4 at 44 lb/ft³, blade of radius 4 3/4 at 1 in: the teeth lie b = sqrt(4.75² − 3.75²) = 2.915 in
    behind the arbor, the table ends at 10.5: moments about that edge, weight · (b + L/2 − 10.5) / (10.5 − b). It tips
    from 15.2 in on."""
    found = fence(0.75, length)
    weight = length * 5.5 * 0.75 / 1728 * 44
    behind = math.sqrt(4.75**2 - 3.75**2)
    by_hand_lb = weight * (behind + length / 2 - 10.5) / (10.5 - behind)
    if press == "no":
        assert isinstance(found, Refusal) and found.code == RIP_TIPS
        assert found.newton / LB == pytest.approx(by_hand_lb, rel=0.01)
        assert found.wanted_mm / INCH == pytest.approx(behind + length / 2 - 10.5 + 2, abs=0.01)
        assert "support that reaches" in found.way("{:.0f} mm".format)
    elif press is None:
        assert Do.PUSH not in steps(found)
    else:
        assert isinstance(found, Leave)
        push = next(step for step in found.before if step.do is Do.PUSH)
        assert push.newton / LB == pytest.approx(by_hand_lb, rel=0.01)
        assert push.newton / LB == pytest.approx(float(press), abs=0.06)
        assert step_words(push, "in").startswith("Push block with a heel, held down flat to the end")


@pytest.mark.parametrize(
    ("behind", "length", "press"), [(1.5, 20, 1.4), (1.5, 24, 2.5), (2.0, 20, 1.7), (2.0, 11.3, 0.0), (1.5, 12.3, 0.0)]
)
def test_a_rip_is_pushed_past_the_knife(behind: float, length: float, press: float) -> None:
    """A knife 1 1/2 or 2 in behind the teeth: the same moments from there; it tips from 12.2 and from 11.2 in on."""
    found = fence(0.75, length, knife_behind_mm=behind * INCH)
    assert isinstance(found, Leave)
    push = next(step for step in found.before if step.do is Do.PUSH)
    assert push.newton / LB == pytest.approx(press, abs=0.06)
    assert Do.PUSH not in steps(fence(0.75, 11.1 if behind == 2.0 else 12.1, knife_behind_mm=behind * INCH))


def test_a_support_behind_the_table_carries_a_long_rip() -> None:
    assert isinstance(fence(0.75, 60), Refusal)
    assert Do.PUSH not in steps(fence(0.75, 60, far_mm=(10.5 + 24) * INCH))


def test_the_start_of_a_rip_is_carried_up_to_fifteen_pounds() -> None:
    """Oak, near edge 11.5: weight · (b + L/2 − 11.5) / (b + L − 11.5): 96 × 8 × 3/4 6.6 lb, 96 × 12 × 1 1/2 20.1."""
    far = 90 * INCH
    found = fence(0.75, 96, 8, far_mm=far)
    assert isinstance(found, Leave)
    (carry,) = (step for step in found.before if step.do is Do.CARRY)
    assert carry.newton / LB == pytest.approx(6.6, abs=0.05)
    heavy = fence(1.5, 96, 12, far_mm=far)
    assert isinstance(heavy, Refusal) and heavy.code == RIP_HEAVY
    assert heavy.newton / LB == pytest.approx(20.1, abs=0.3)
    assert isinstance(fence(1.5, 96, 12, far_mm=far, operator_mm=40 * INCH), Leave)


def test_start_of_a_panel_is_where_the_blade_that_is_ordered_touches_it() -> None:
    """Panel 15 1/4 deep, t .703, base 1/2: ordered 1.453; the teeth at the base's face lie 2.854 from the arbor."""
    found = on_the_sled(cut(Axis.ACROSS, 14, 15.25, 10), stock(0.703, "birch ply"), S)
    assert isinstance(found, Leave) and found.blade_mm == pytest.approx(1.453 * INCH)
    assert found.finding is not None
    assert found.finding.cut.blade.reach_mm(12.7) == pytest.approx(2.854 * INCH, abs=0.02)


def test_what_is_carried_by_itself_wants_the_blade_height_alone() -> None:
    assert steps(sled(0.75)) == [Do.BLADE]


def test_a_long_tail_and_a_piece_that_tips_off_the_base_are_held_first() -> None:
    found = sled(0.75, 40, 5, 12)
    assert steps(found) == [Do.BLADE, Do.CLAMP, Do.TAIL]
    assert isinstance(found, Leave) and found.before[2].mm == pytest.approx((40 - 12) * INCH)
    assert found.finding is not None and found.finding.nothing_found


def test_what_tips_with_all_of_that_is_refused_and_says_by_how_much() -> None:
    found = sled(1.5, 120, 5, 100)
    assert isinstance(found, Refusal) and found.code == TIPS
    assert "it tips over the edge on the keeper side" in found.text("{:.0f} mm".format)


def test_short_keeper_and_rip_on_the_sled_are_clamped_whatever_the_sums_say() -> None:
    """Under 6 in from the kerf no hand holds it: common practice."""
    assert steps(sled(0.75, 15, 5, 5.9)) == [Do.BLADE, Do.CLAMP, Do.TAIL]
    assert steps(sled(0.75, 8, 5, 6.1)) == [Do.BLADE]
    assert steps(sled(0.75, 8, 5, 5.9)) == [Do.BLADE, Do.CLAMP]
    rip = on_the_sled(cut(Axis.ALONG, 11, 9, 6.5), stock(0.75), S)
    assert steps(rip) == [Do.BLADE, Do.CLAMP]


def test_trim_keeps_its_longer_side() -> None:
    found = sled(0.75, 20, 5, 0.5, sized=Sized.NONE, extensions=(WING,))
    assert isinstance(found, Leave) and found.finding is not None
    assert found.finding.cut.piece.keeper_mm == pytest.approx((20 - 0.5 - 0.125) * INCH)


def test_wing_that_the_maker_forbids_is_taken_off_first_and_not_counted() -> None:
    found = sled(0.75, extensions=(WING,), forbids=frozenset({"wing"}))
    assert steps(found) == [Do.BLADE, Do.TAKE_OFF]


def test_a_guarded_sled_has_its_guard_on_first() -> None:
    assert steps(sled(0.75, guarded=True)) == [Do.BLADE, Do.GUARD]


@pytest.mark.parametrize(
    ("fact", "said"),
    [("highest_mm", "max_cut"), ("base_mm", "base"), ("sled", "lacks this"), ("radius_mm", "lacks this")],
)
def test_a_fact_that_is_missing_is_waited_for(fact: str, said: str) -> None:
    found = sled(0.75, **{fact: None, "lacks": "" if fact == "base_mm" else "lacks this"})
    assert isinstance(found, Leave) and said in found.waits and found.finding is None


@pytest.mark.parametrize(
    ("fact", "said"),
    [("highest_mm", "max_cut"), ("far_mm", "far side"), ("operator_mm", "operator side"), ("radius_mm", "diameter")],
)
def test_a_rip_waits_for_its_facts(fact: str, said: str) -> None:
    found = fence(0.75, 20, **{fact: None})
    assert isinstance(found, Leave) and said in found.waits
    unknown = at_the_fence(cut(Axis.ALONG, 20, 5, 2), stock(0.75), S, widest_known=False)
    assert isinstance(unknown, Leave) and "the widest that it rips" in unknown.waits


@pytest.mark.parametrize("material", ["", "moon cheese"])
def test_wood_of_unknown_weight_is_not_guessed(material: str) -> None:
    for found in (
        on_the_sled(cut(Axis.ACROSS, 15, 5, 12), stock(0.75, material), S),
        at_the_fence(cut(Axis.ALONG, 20, 5, 2), stock(0.75, material), S, widest_known=True),
    ):
        assert isinstance(found, Leave) and found.waits.endswith("is not known here: weigh a piece.")


def test_hand_and_guided_saw_are_counted_on_for_two_inches() -> None:
    made = cut(Axis.ACROSS, 30, 30, 12)
    assert isinstance(by_hand(made, stock(2.0), "guided saw"), Leave)
    refused = by_hand(made, stock(2.1), "guided saw")
    assert isinstance(refused, Refusal) and refused.way(str) == ""


def test_the_stations_are_asked_in_turn_and_none_is_said_where_none_may() -> None:
    reach = replace(reach_of(shop()), bench=S)
    leg = ruling_for(cut(Axis.ACROSS, 30, 4, 20), reach, stock(2.5))
    assert leg.station is Station.NONE
    assert [one.station for one in leg.refused] == ["sled", "rip fence", "guided saw"] or [
        one.station for one in leg.refused
    ] == ["sled", "guided saw"]
    thin = ruling_for(cut(Axis.ACROSS, 120, 4, 100), reach, stock(1.5))
    assert thin.station is Station.FLOOR and [one.code for one in thin.refused] == [TIPS]


def with_sled(**facts: float | str | None) -> Shop:
    sled = shop().sled
    assert sled is not None
    kept = {name: value for name, value in (dict(sled.facts) | facts).items() if value is not None}
    return replace(shop(), fixtures=(replace(sled, facts=kept), *(f for f in shop().fixtures if f.id != "sled")))


@pytest.mark.parametrize(
    ("here", "said"),
    [
        (Shop(), "no saw or no sled"),
        (with_sled(weight=None, centre=None), "Not known: sled: weight; sled: centre."),
        (with_sled(fence=None), "Not known: sled: fence."),
        (replace(shop(), blade=ShopBlade("b")), "Not known: blade: diameter."),
        (replace(shop(), blade=None), "Not known: blade: diameter."),
        (with_sled(centre=999.0), "centre of mass must lie over its base"),
    ],
)
def test_what_the_sums_on_the_sled_lack_is_said(here: Shop, said: str) -> None:
    assert said in bench_of(here).lacks


def test_facts_of_the_shop_reach_the_bench() -> None:
    bench = bench_of(shop())
    assert bench.sled is not None and bench.lacks == "" and bench.fence_lacks == ""
    assert bench_of(with_sled(fence="operator")).sled == replace(bench.sled, fence=Side.OPERATOR)
    bare = replace(shop(), fixtures=tuple(f for f in shop().fixtures if f.id != "outfeed"))
    outfeed = next(f for f in shop().fixtures if f.id == "outfeed")
    assert bench.far_mm == pytest.approx((bench_of(bare).far_mm or 0.0) + float(outfeed.facts["size_out"]))
    untested = replace(outfeed, facts=dict(outfeed.facts) | {"load_tested": "no"})
    assert bench_of(replace(bare, fixtures=(*bare.fixtures, untested))).far_mm == bench_of(bare).far_mm


@pytest.mark.parametrize("ban", ["table-drilled", "rail-clamped"])
def test_a_wing_that_is_held_as_the_maker_forbids_is_not_counted(ban: str) -> None:
    """Nor one of which nobody has said how it is held."""
    saw = shop().saw
    assert saw is not None
    wing = next(f for f in shop().fixtures if f.id == "wing")
    others = tuple(f for f in shop().fixtures if f is not wing)
    for held, counted in ((ban, False), (None, False), ("bolted", True), ("floor", True)):
        facts = {name: value for name, value in wing.facts.items() if name != "held"}
        other = replace(wing, facts=facts | ({"held": held} if held else {}))
        here = replace(shop(), saw=replace(saw, maker_forbids=(ban,)), fixtures=(other, *others))
        assert (wings_left_out(here) == ()) is counted, held
        assert any(one.side is Side.KEEPER for one in bench_of(here).extensions) is counted


def test_support_beside_table_or_behind_it_lies_middle_on_middle() -> None:
    wing = next(f for f in shop().fixtures if f.kind == "wing")
    only = replace(wing, id="stand", facts=dict(wing.facts) | {"side": "far"})
    bench = bench_of(replace(shop(), fixtures=(*(f for f in shop().fixtures if f.kind != "wing"), only)))
    assert bench.table is not None and bench.extensions[0].along_mm is not None
    low, high = bench.extensions[0].along_mm
    assert (low + high) / 2 == pytest.approx((bench.table.keeper_mm - bench.table.offcut_mm) / 2)


def test_a_wing_counted_for_a_reason_carries_and_the_reason_is_told() -> None:
    untested = replace(WING, load_tested=False)
    excused = replace(untested, typed_reason="held 80 lb")
    tested, with_reason = (sled(0.75, 30, 5, 20, extensions=(one,)) for one in (WING, excused))
    assert isinstance(tested, Leave) and isinstance(with_reason, Leave)
    assert tested.finding is not None and with_reason.finding is not None
    assert tested.finding.worst.margin_mm == with_reason.finding.worst.margin_mm
    assert "without a load test, because: held 80 lb." in with_reason.finding.words()
    bare = sled(0.75, 30, 5, 20, extensions=(untested,))
    assert isinstance(bare, Refusal) and bare.code == TIPS
    assert "load-test the wing" in bare.way("{:.0f} mm".format)


def test_support_of_a_plan_counts_the_first_steps_of_its_tickets() -> None:
    found = sled_support(planned("rack").order)
    assert [one.ticket for one in found] == ["T2", "T3", "T4", "T5"]
    assert all(one.finding is not None and one.finding.nothing_found for one in found)
    rip = used(cut(Axis.ALONG, 30, 5, 3))
    assert sled_support(order_cuts([rip], reach_of(shop()))) == ()


@pytest.mark.parametrize("do", Do)
def test_every_step_has_words_in_both_units(do: Do) -> None:
    step = Step(do, 38.1, 4.45)
    assert step_words(step, "in").endswith(".") and step_words(step, "mm").endswith(".")
    assert "1 1/2 in" in step_words(Step(Do.BLADE, 38.1), "in") and "38 mm" in step_words(Step(Do.BLADE, 38.1), "mm")


def test_a_part_that_no_station_makes_is_told_with_what_could_make_it() -> None:
    """A leg 2 1/4 thick: base 1/2, and 1/8 above, is 2 7/8; the saw reaches 2.85. Without the base it would do."""
    reach = replace(reach_of(shop()), bench=S)
    leg = Used(stock(2.25), 1, cut(Axis.ACROSS, 30, 4, 20))
    order = order_cuts([leg], reach)
    assert order.cuts == () and len(order.lost) == 1
    (one,) = lost_parts(order, lambda mm: f"{mm / INCH:.3f}")
    assert (one.part, one.code) == ("part@1", "too-thick")
    assert one.text.startswith(
        "part@1 (2.250 thick) cannot be crosscut here: on the sled the blade must stand 2.875 up"
    )
    assert one.could == "It could be: at a miter gauge without a base, or with a hand saw."
    thicker = order_cuts([Used(stock(4.0), 1, cut(Axis.ACROSS, 30, 4, 20))], reach)
    assert lost_parts(thicker, str)[0].could == "It could be: with a hand saw."


def test_what_only_leads_to_a_lost_part_is_not_cut_either_and_the_rest_is() -> None:
    """A thin board beside the thick one is cut all the same."""
    reach = replace(reach_of(shop()), bench=S)
    thick, thin = (Used(stock(size), 1, cut(Axis.ACROSS, 15, 4, 12)) for size in (2.5, 0.75))
    order = order_cuts([thick, thin], reach)
    assert [done.task.used for done in order.cuts] == [thin] and [lost.used for lost in order.lost] == [thick]


def test_work_against_a_gauge_lies_on_the_table_itself() -> None:
    """A gauge has no platform: its base is no fact to wait for. Table 11 in to the keeper side: a keeper of 20 in has
    its middle at 10, nearer than 2 in to the edge; one of 17 in, at 8.5, is carried."""
    gauge = replace(S, base_mm=0.0, sled=None, on_table=True)
    carried = on_the_sled(cut(Axis.ACROSS, 18, 5, 17), stock(2.5), gauge)
    assert steps(carried) == [Do.BLADE] and isinstance(carried, Leave) and carried.waits == ""
    assert carried.blade_mm == pytest.approx(2.75 * INCH)
    off = on_the_sled(cut(Axis.ACROSS, 21, 5, 20), stock(0.75), gauge)
    assert isinstance(off, Refusal) and "would not lie over table and wings" in off.text(str)
    winged = replace(gauge, extensions=(WING,))
    assert isinstance(on_the_sled(cut(Axis.ACROSS, 21, 5, 20), stock(0.75), winged), Leave)
    forbidden = replace(winged, forbids=frozenset({"wing"}))
    assert isinstance(on_the_sled(cut(Axis.ACROSS, 21, 5, 20), stock(0.75), forbidden), Refusal)
    unknown = on_the_sled(cut(Axis.ACROSS, 18, 5, 17), stock(0.75), replace(gauge, table=None, lacks="Not known: x."))
    assert isinstance(unknown, Leave) and unknown.waits == "Not known: x."


def test_a_gauge_of_the_shop_file_needs_no_platform() -> None:
    bare = replace(shop(), fixtures=(Fixture("gauge", "mitre-gauge", {"keeper": "left", "fence": "operator"}),))
    bench = bench_of(bare)
    assert bench.on_table and bench.base_mm == 0.0 and bench.lacks == ""
    assert "blade: diameter" in bench_of(replace(bare, blade=None)).lacks
