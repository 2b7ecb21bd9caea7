"""Support of the cuts of a plan: the facts of shop and wood put together, and what is said where one lacks."""

from dataclasses import replace

import pytest
from tests.plan.planned import cut, inch, planned, shop, used
from tests.plan.sled_s import BLADE, INCH, SLED, TABLE, board

from trued.plan.order import order_cuts
from trued.plan.pieces import Stock
from trued.plan.sled_cut import Blade, Extension, Side, SledCut
from trued.plan.sled_support import TOOTH_MM, TicketSupport, sled_support
from trued.plan.station import Reach
from trued.plan.support import support_of
from trued.plan.tree import Axis, Sized, Used
from trued.shop.saw import Blade as ShopBlade
from trued.shop.shop import Shop


def one(axis: Axis, length: float, width: float, at: float, here: Shop, **more: object) -> TicketSupport:
    tree = cut(axis, length, width, at, sized=more.pop("sized", Sized.LOW))  # type: ignore[arg-type]
    stock = Stock(
        "B", tree.piece.length, tree.piece.width, material=str(more.pop("material", "pine")), thickness=inch(0.75)
    )
    order = order_cuts([Used(stock, 1, tree)], Reach())
    return sled_support(order, here, tail_held=bool(more.pop("tail_held", False)))[0]


def with_sled(**facts: float | str | None) -> Shop:
    sled = shop().sled
    assert sled is not None
    kept = {name: value for name, value in (dict(sled.facts) | facts).items() if value is not None}
    return replace(shop(), fixtures=(replace(sled, facts=kept), *(f for f in shop().fixtures if f.id != "sled")))


def test_same_sums_as_for_the_cut_itself() -> None:
    found = one(Axis.ACROSS, 30, 5, 20, shop()).finding
    wing = Extension(Side.KEEPER, 12 * INCH, (-8.5 * INCH, 9.5 * INCH), load_tested=True)
    blade = Blade(BLADE.radius_mm, (0.5 + 0.75) * INCH + TOOTH_MM)
    by_hand = support_of(SledCut(TABLE, blade, SLED, board(30, 5, 0.75, 26, keeper=20), (wing,)))
    assert found is not None
    assert found.worst.margin_mm == pytest.approx(by_hand.worst.margin_mm, abs=0.05)
    assert [p.trouble for p in found.problems] == [p.trouble for p in by_hand.problems]


def test_short_piece_is_carried_and_a_long_tail_is_not() -> None:
    assert (short := one(Axis.ACROSS, 15, 5, 12, shop()).finding) is not None and short.nothing_found
    assert (long := one(Axis.ACROSS, 70, 5, 12, shop()).finding) is not None and not long.nothing_found


def test_held_tail_takes_one_trouble_away() -> None:
    free, held = (one(Axis.ACROSS, 40, 5, 12, shop(), tail_held=held).finding for held in (False, True))
    assert free is not None and held is not None
    assert len(held.problems) < len(free.problems)


def test_trim_may_be_held_by_either_end() -> None:
    found = one(Axis.ACROSS, 20, 5, 0.5, shop(), sized=Sized.NONE).finding
    kept = one(Axis.ACROSS, 20, 5, 0.5, shop()).finding
    assert found is not None and kept is not None
    assert len(found.problems) <= len(kept.problems)
    assert found.cut.piece.keeper_mm == pytest.approx((20 - 0.5 - 0.125) * 25.4)


def test_only_cuts_on_the_sled_are_reckoned_each_once() -> None:
    here = planned("rack")
    found = sled_support(here.order, shop(), tail_held=True)
    assert [one.ticket for one in found] == ["T1", "T2", "T3", "T4", "T5"]
    assert found[4].finding is not None and found[4].finding.nothing_found


def test_panels_are_known_by_their_last_word() -> None:
    assert one(Axis.ACROSS, 15, 5, 12, shop(), material="birch ply").finding is not None


@pytest.mark.parametrize("material", ["", "moon cheese"])
def test_wood_of_unknown_weight_is_not_guessed(material: str) -> None:
    found = one(Axis.ACROSS, 15, 5, 12, shop(), material=material)
    assert found.finding is None and found.lacks.endswith("is not known here: weigh a piece.")


@pytest.mark.parametrize(
    ("here", "said"),
    [
        (Shop(), "no saw or no sled"),
        (with_sled(weight=None, centre=None), "Not known: sled: weight; sled: centre."),
        (with_sled(fence=None), "Not known: sled: fence."),
        (replace(shop(), blade=ShopBlade("b")), "Not known: blade: diameter."),
        (replace(shop(), blade=None), "Not known: blade: diameter."),
        (with_sled(centre=999.0), "centre of mass must lie over its base"),
        (with_sled(base=3.9 * 25.4), "does not reach through base and piece"),
        (with_sled(base=5 * 25.4), "through base and piece"),
    ],
)
def test_what_lacks_is_said(here: Shop, said: str) -> None:
    found = one(Axis.ACROSS, 15, 5, 12, here)
    assert found.finding is None
    assert said in found.lacks


def test_forbidden_wing_is_a_problem_and_the_operators_fence_is_understood() -> None:
    saw = shop().saw
    assert saw is not None
    found = one(Axis.ACROSS, 15, 5, 12, replace(shop(), saw=replace(saw, maker_forbids=("wing",)))).finding
    assert found is not None and any("wing" in problem.what for problem in found.problems)
    assert (other := one(Axis.ACROSS, 15, 5, 12, with_sled(fence="operator")).finding) is not None
    assert other.cut.sled.fence is Side.OPERATOR


def test_a_wing_counted_for_a_reason_carries_and_the_reason_is_told() -> None:
    wing = next(f for f in shop().fixtures if f.kind == "wing")

    def margin_with(**facts: str) -> tuple[float, str]:
        other = replace(wing, facts=dict(wing.facts) | facts)
        here = replace(shop(), fixtures=tuple(other if f is wing else f for f in shop().fixtures))
        found = one(Axis.ACROSS, 30, 5, 20, here).finding
        assert found is not None
        return found.worst.margin_mm, found.words()

    tested, untested = margin_with(load_tested="yes"), margin_with(load_tested="no")
    excused = margin_with(load_tested="no", counted_because="held 80 lb")
    assert tested[0] == excused[0] > untested[0]
    assert "without a load test, because: held 80 lb." in excused[1] and "because" not in tested[1]


def test_support_beside_table_or_behind_it_lies_middle_on_middle() -> None:
    wing = next(f for f in shop().fixtures if f.kind == "wing")
    behind = replace(
        shop(), fixtures=(*shop().fixtures, replace(wing, id="stand", facts=dict(wing.facts) | {"side": "far"}))
    )
    found = one(Axis.ACROSS, 15, 5, 12, behind).finding
    assert found is not None
    assert found.cut.extensions[1].along_mm == pytest.approx(
        ((11 - 22.75 - 18) / 2 * 25.4, (11 - 22.75 + 18) / 2 * 25.4)
    )


def test_nothing_on_the_sled_is_nothing_to_reckon() -> None:
    assert sled_support(order_cuts([used(cut(Axis.ALONG, 30, 5, 3))], Reach()), shop(), tail_held=False) == ()
