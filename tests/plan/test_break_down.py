"""Strips put in order of size, and sheets broken down over size on the floor, so that the saw gives the sizes."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.plan.planned import INCH, cut, inch

from trued.plan.lay_out import lay_out
from trued.plan.layout.cut_tree import Axis, Cut, Offcut, Part, Sized, Used, Waste, cuts, parts
from trued.plan.layout.pieces import PartGrain, Rect, Rules, Stock, StockGrain, Want
from trued.plan.layout.result import Layout
from trued.plan.layout.strip_order import tidied
from trued.plan.layout.strips import chain_of, shifted
from trued.plan.layout.verifier import violations_of
from trued.plan.order.order import order_cuts
from trued.plan.order.sizing_cuts import makers
from trued.plan.stations.break_down import MARGIN, broken_down
from trued.plan.stations.station import Reach, Station, station_for

REACH = Reach(crosscut=inch(14), rip=inch(22.25))
KERF = inch(0.094)
RULES = Rules(KERF)


def laid(stock: Stock, wants: tuple[Want, ...], rules: Rules = RULES) -> Layout:
    found = lay_out((stock,), wants, rules)
    assert isinstance(found, Layout)
    return found


def side_by_side(*strips: float, width: float = 60, length: float = 40, stock: Stock | None = None) -> Used:
    """A sheet from which strips come off along it, one after another; the rest is kept."""
    x, end = inch(length), inch(width)
    begins = [sum(inch(strip) + KERF for strip in strips[:n]) for n in range(len(strips) + 1)]
    node: Cut | Offcut = Offcut(Rect(0, begins[-1], x, end - begins[-1]))
    for n in range(len(strips) - 1, -1, -1):
        piece = Rect(0, begins[n], x, end - begins[n])
        leaf = Part(Rect(0, begins[n], x, inch(strips[n])), f"s{strips[n]}", strips[:n].count(strips[n]) + 1)
        node = Cut(piece, Axis.ALONG, inch(strips[n]), KERF, leaf, node)
    return Used(stock or Stock("S", x, end), 1, node)


def layout_of(used: Used) -> tuple[Layout, tuple[Want, ...]]:
    """A layout with that one piece, and what it was to be."""
    count = Counter((part.want, part.piece.length, part.piece.width) for part in parts(used.tree))
    wants = tuple(Want(name, copies, length, width) for (name, length, width), copies in count.items())
    found = laid(used.stock, wants, Rules(KERF, effort=1))
    rest = next(leaf for leaf in (chain_of(used.tree)[-1].high,) if leaf is not None)  # type: ignore[arg-type]
    worth = (rest.piece.area / 10**20) ** 1.5 if isinstance(rest, Offcut) else 0.0
    sizes = {one.position for one in cuts(used.tree)}
    return replace(found, used=(used,), offcut_value=worth, settings=len(sizes)), wants


def strips_of(used: Used) -> list[float]:
    return [one.position / INCH for one in cuts(used.tree) if one.sized is Sized.LOW]


def test_strips_are_put_in_order_of_size() -> None:
    used = side_by_side(4.75, 3, 4.75, 3.875)
    layout, wants = layout_of(used)
    assert violations_of(layout, (used.stock,), wants, RULES) == ()
    tidy = tidied(layout, (used.stock,), wants, RULES)
    assert strips_of(tidy.used[0]) == [4.75, 4.75, 3.875, 3]
    assert violations_of(tidy, (used.stock,), wants, RULES) == ()
    assert order_cuts(tidy.used, REACH).settings <= order_cuts(layout.used, REACH).settings


def test_defect_that_is_in_the_way_leaves_the_strips_as_they_were() -> None:
    # A knot in the kerf between the first two strips: put in another order a strip would hold it.
    knot = Stock("S", inch(40), inch(60), defects=(Rect(0, inch(3), inch(1), KERF),))
    used = side_by_side(3, 4.75, stock=knot)
    layout, wants = layout_of(used)
    assert tidied(layout, (knot,), wants, RULES) == layout


def test_strips_come_off_a_sheet_as_one_blank_over_size() -> None:
    used = side_by_side(4.75, 4.75, 3)
    layout, wants = layout_of(used)
    found = broken_down(layout, (used.stock,), wants, RULES, REACH)
    first = found.used[0].tree
    assert isinstance(first, Cut) and first.sized is Sized.NONE
    assert first.position == inch(12.5) + 3 * KERF + MARGIN
    assert station_for(first, REACH) is Station.FLOOR
    assert isinstance(first.low, Cut)
    assert [station_for(one, REACH) for one in cuts(first.low)] == [Station.RIP] * 3
    assert isinstance(first.high, Offcut) and first.high.piece.width == inch(47.5) - 4 * KERF - MARGIN
    assert found.cost == layout.cost and found.offcut_value < layout.offcut_value
    assert violations_of(found, (used.stock,), wants, RULES) == ()


def test_as_many_strips_as_the_saw_can_take_come_off_at_once() -> None:
    # 40 long: a blank up to 36 wide goes to the rip fence, so not all five strips of 9.
    used = side_by_side(9, 9, 9, 9, 9)
    layout, wants = layout_of(used)
    found = broken_down(layout, (used.stock,), wants, RULES, REACH)
    rough = [one for one in cuts(found.used[0].tree) if one.sized is Sized.NONE]
    assert len(rough) == 1
    assert station_for(chain_of(rough[0].low)[0], REACH) is Station.RIP  # type: ignore[arg-type]
    assert violations_of(found, (used.stock,), wants, RULES) == ()


def test_sheet_with_nothing_to_spare_is_cut_to_size_on_the_floor() -> None:
    used = side_by_side(29.9, 29.9, width=60)
    layout, wants = layout_of(used)
    assert broken_down(layout, (used.stock,), wants, RULES, REACH) == layout


def test_offcut_that_gets_too_small_to_keep_is_waste() -> None:
    used = side_by_side(22, 25.8, width=60)  # leaves 12.0 of 60
    layout, wants = layout_of(used)
    found = broken_down(layout, (used.stock,), wants, RULES, REACH)
    assert isinstance(found.used[0].tree, Cut)
    assert violations_of(found, (used.stock,), wants, RULES) == ()
    kept = [leaf for one in cuts(found.used[0].tree) for leaf in (one.high,) if isinstance(leaf, Offcut)]
    assert kept == [] and found.offcut_value == 0.0


def test_remainder_layouts_and_small_boards_are_left_alone() -> None:
    used = side_by_side(4.75, 4.75, 3)
    layout, wants = layout_of(used)
    assert broken_down(layout, (used.stock,), wants, Rules(KERF, remainder=True), REACH) == layout
    small = side_by_side(4, 3, width=10)
    whole, small_wants = layout_of(small)
    assert broken_down(whole, (small.stock,), small_wants, RULES, REACH) == whole


def test_carcass_gets_its_widths_from_the_fence() -> None:
    ply = Stock("ply", inch(96), inch(48), 1, 72.0)
    wants = (
        Want("side", 2, inch(30), inch(15.25)),
        Want("top", 2, inch(22.969), inch(15.25)),
        Want("shelf", 1, inch(22.344), inch(14.5)),
    )
    layout = laid(ply, wants)
    found = broken_down(tidied(layout, (ply,), wants, RULES), (ply,), wants, RULES, REACH)
    assert violations_of(found, (ply,), wants, RULES) == ()
    widths = {maker.part.want: maker.width for maker in makers(found.used)}
    assert {station_for(one, REACH) for one in widths.values() if one is not None} == {Station.RIP}


def test_shift_moves_all_that_lies_in_a_piece() -> None:
    tree = cut(Axis.ALONG, 40, 6, 2)
    moved = shifted(tree, Axis.ALONG, inch(3))
    assert isinstance(moved, Cut) and isinstance(moved.high, Waste)
    assert (moved.piece.y, moved.high.piece.y) == (inch(3), inch(5.125))
    assert shifted(tree, Axis.ACROSS, 0) is tree


@st.composite
def shops(draw: st.DrawFn) -> tuple[Stock, tuple[Want, ...], Rules]:
    """A sheet with trims and knots, and parts to come from it."""
    trim = draw(st.sampled_from([0, inch(0.5)]))
    knots = tuple(
        Rect(inch(draw(st.integers(0, 90))), inch(draw(st.integers(0, 42))), inch(2), inch(1))
        for _ in range(draw(st.integers(0, 2)))
    )
    stock = Stock(
        "S",
        inch(96),
        inch(48),
        trim_ends=(trim, draw(st.sampled_from([0, inch(0.25)]))),
        trim_edges=(trim, trim),
        grain=draw(st.sampled_from([StockGrain.LENGTH, StockGrain.NONE])),
        defects=knots,
    )
    sizes = st.sampled_from([6, 8.25, 11, 15.25, 18, 22.969, 30, 40])
    wants = tuple(
        Want(f"p{n}", draw(st.integers(1, 4)), inch(draw(sizes)), inch(draw(sizes)), draw(st.sampled_from(PartGrain)))
        for n in range(draw(st.integers(1, 4)))
    )
    allowance = draw(st.sampled_from([0, 0, inch(0.5)]))
    return stock, wants, Rules(KERF, allowance=allowance, effort=20)


@settings(max_examples=40)
@given(shop=shops())
def test_what_is_moved_about_stays_cuttable_and_costs_nothing(shop: tuple[Stock, tuple[Want, ...], Rules]) -> None:
    stock, wants, rules = shop
    layout = lay_out((stock,), wants, rules)
    if not isinstance(layout, Layout):
        return
    tidy = tidied(layout, (stock,), wants, rules)
    found = broken_down(tidy, (stock,), wants, rules, REACH)
    assert violations_of(tidy, (stock,), wants, rules) == violations_of(found, (stock,), wants, rules) == ()
    assert found.cost == layout.cost and found.offcut_value <= layout.offcut_value + 1e-8
    on_floor = [sum(_sized_on_floor(one) for used in lay.used for one in cuts(used.tree)) for lay in (tidy, found)]
    assert on_floor[1] < on_floor[0] or found == tidy


def _sized_on_floor(one: Cut) -> bool:
    return one.sized is not Sized.NONE and station_for(one, REACH) is Station.FLOOR


@pytest.mark.parametrize("many", [3, 260])
def test_very_many_strips_are_no_trouble(many: int) -> None:
    used = side_by_side(*([1.0] * many), width=many * 1.1 + 15)
    layout, wants = layout_of(used)
    tidy = tidied(layout, (used.stock,), wants, RULES)
    assert violations_of(broken_down(tidy, (used.stock,), wants, RULES, REACH), (used.stock,), wants, RULES) == ()
