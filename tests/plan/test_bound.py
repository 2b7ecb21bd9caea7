"""The lower bound: scales that anyone can add up, prices, limits and offcuts, and what it must never do."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.layout_jobs import inch, laid, refused, rules, sheet, two_boards

from trued.plan.bounds import bound
from trued.plan.bounds.bound import choices, floor_of, too_much, weighings
from trued.plan.bounds.knapsack import fullest
from trued.plan.bounds.scales import WHOLE, _cap, _count, _plain, _stairs
from trued.plan.lay_out import lay_out
from trued.plan.layout.pieces import PartGrain, Rules, Stock, Want
from trued.plan.layout.result import TooMuch
from trued.plan.layout.task import task_of

MM = 10_000_000
DUALS = [("plain", _plain), *((f"stairs {n}", _stairs(n)) for n in (1, 2, 3, 4))]
DUALS += [(f"cap {s}", _cap(s)) for s in (0.1, 0.25, 0.3, 0.5)] + [
    (f"count {s}", _count(s)) for s in (0.1, 0.25, 0.3, 0.5)
]


@pytest.mark.parametrize(("_name", "dual"), DUALS)
@given(sizes=st.lists(st.integers(1, 1000), min_size=1, max_size=12), capacity=st.integers(1, 1000))
def test_what_fits_still_fits_on_the_scale(
    _name: str, dual: Callable[[int, int], int], sizes: list[int], capacity: int
) -> None:
    """A dual feasible function: sizes that sum to at most the capacity weigh at most the whole."""
    there: list[int] = []
    for size in sizes:
        if sum(there) + size <= capacity:
            there.append(size)
    assert sum(dual(size, capacity) for size in there) <= WHOLE


def test_steps_of_a_half_see_that_two_large_ones_do_not_share() -> None:
    # Three squares of 0.6: area 1.08 asks for two sheets, the scale for three.
    wants = (Want("square", 3, 600 * MM, 600 * MM),)
    task = task_of((Stock("sheet", 1000 * MM, 1000 * MM, price=1.0),), wants, Rules(0), priced=True)
    floor = floor_of(task, weighings(task))
    assert floor.cost == 3_000_000
    assert floor.scale is not None
    assert floor.scale.name != "area"


def test_the_named_scale_can_be_added_up_by_anyone() -> None:
    wants = (Want("square", 3, 600 * MM, 600 * MM),)
    answer = refused(lay_out((Stock("sheet", 1000 * MM, 1000 * MM, have=2),), wants, Rules(0, effort=5)))
    reason = answer.reason
    assert isinstance(reason, TooMuch)
    weights, capacities = dict(reason.scale.weights), dict(reason.scale.capacities)
    assert reason.need == 3 * weights["square"]
    assert reason.have == 2 * capacities["sheet"]
    assert reason.need > reason.have
    assert 2 * weights["square"] > capacities["sheet"]  # two never share a sheet


def test_the_cheaper_way_of_several_sizes_is_the_bound() -> None:
    stocks = (Stock("long", 100 * MM, 10 * MM, price=10.0), Stock("short", 60 * MM, 10 * MM, price=5.0))
    layout = laid(lay_out(stocks, (Want("part", 3, 30 * MM, 10 * MM),), Rules(0, remainder=True, effort=30)))
    # Two short ones (2 + 1 parts) for 10; one long one (3 parts) for 10; one short holds only two.
    assert (layout.cost, layout.bound) == (10.0, 10.0)


def test_a_limited_number_pushes_the_bound_up() -> None:
    short = Stock("short", 60 * MM, 10 * MM, price=5.0, have=1)
    stocks = (Stock("long", 100 * MM, 10 * MM, price=12.0), short)
    layout = laid(lay_out(stocks, (Want("part", 3, 30 * MM, 10 * MM),), Rules(0, remainder=True, effort=30)))
    assert (layout.cost, layout.bound) == (12.0, 12.0)


def test_an_offcut_costs_nothing_and_comes_first() -> None:
    offcut = Stock("rest", 35 * MM, 10 * MM, have=1, offcut=True)
    board = Stock("board", 100 * MM, 10 * MM, price=12.0)
    layout = laid(lay_out((board, offcut), (Want("part", 1, 30 * MM, 10 * MM),), Rules(2 * MM, effort=30)))
    assert [used.stock.id for used in layout.used] == ["rest"]
    assert (layout.cost, layout.bound, layout.gap) == (0.0, 0.0, 0.0)


def test_without_prices_the_cost_is_the_area() -> None:
    layout = laid(lay_out((sheet("96", "48"),), (Want("part", 1, inch("30"), inch("10")),), rules(effort=5)))
    assert layout.unit == "m2"
    assert layout.cost == pytest.approx(float(Fraction("2.4384") * Fraction("1.2192")))


def test_one_price_that_is_missing_makes_the_area_count() -> None:
    stocks = (Stock("a", 100 * MM, 50 * MM, price=1.0), Stock("b", 200 * MM, 50 * MM))
    layout = laid(lay_out(stocks, (Want("part", 1, 90 * MM, 40 * MM),), Rules(0, effort=5)))
    assert layout.unit == "m2"
    assert [used.stock.id for used in layout.used] == ["a"]


def test_parts_that_only_one_size_can_take_count_on_that_size() -> None:
    # By area three small sheets would do; the long part needs the dear one.
    stocks = (Stock("small", 500 * MM, 500 * MM, price=1.0), Stock("large", 1000 * MM, 500 * MM, price=9.0))
    layout = laid(lay_out(stocks, (Want("long", 1, 900 * MM, 100 * MM),), Rules(0, effort=5)))
    assert (layout.cost, layout.bound) == (9.0, 9.0)


def test_turning_is_weighed_by_its_lighter_way() -> None:
    # Straight, only two lie one above the other in 650; the third fits beside them when it is turned.
    wants = (Want("part", 3, 600 * MM, 300 * MM, PartGrain.ANY),)
    layout = laid(lay_out((Stock("sheet", 1000 * MM, 650 * MM, price=1.0),), wants, Rules(0, effort=60)))
    assert (layout.cost, layout.bound) == (1.0, 1.0)


def test_a_pinwheel_is_no_layout_and_every_way_says_so() -> None:
    # Four of 600 × 400 go into 1000 × 1000 around a hole, but not edge to edge; no scale sees that.
    wants = (Want("part", 4, 600 * MM, 400 * MM, PartGrain.ANY),)
    layout = laid(
        lay_out((Stock("sheet", 1000 * MM, 1000 * MM, price=1.0),), wants, Rules(0, remainder=True, effort=60))
    )
    assert (layout.cost, layout.bound) == (2.0, 2.0)
    assert layout.bounds[0].every_way


def test_choices_rise_in_cost_and_hold_every_free_piece() -> None:
    stocks = (
        Stock("a", 100 * MM, 10 * MM, price=3.0, have=2),
        Stock("b", 80 * MM, 10 * MM, price=2.0),
        Stock("free", 30 * MM, 10 * MM, have=2, offcut=True),
    )
    task = task_of(stocks, (Want("part", 3, 20 * MM, 10 * MM),), Rules(0), priced=True)
    every = list(choices(task, ()))
    assert [cost for cost, _, _ in every] == sorted(cost for cost, _, _ in every)
    assert len({count for _, count, _ in every}) == len(every) == 3 * 4
    assert {count[2] for _, count, _ in every} == {2}


def test_the_bound_stands_where_the_choices_are_cut_off(monkeypatch: pytest.MonkeyPatch) -> None:
    task = task_of(
        (Stock("b", 100 * MM, 10 * MM, price=1.0),), (Want("p", 30, 60 * MM, 10 * MM),), Rules(0), priced=True
    )
    whole = floor_of(task, weighings(task)).cost
    monkeypatch.setattr(bound, "MOST_CHOICES", 4)
    assert floor_of(task, weighings(task)).cost < whole == 30_000_000


def test_stock_that_is_enough_is_never_refused() -> None:
    task = task_of(two_boards(), (Want("p", 5, inch("24"), inch("4")),), rules(), priced=False)
    assert too_much(task, weighings(task)) is None


@given(
    st.lists(st.tuples(st.integers(1, 30), st.integers(0, 20), st.integers(0, 3)), min_size=1, max_size=5),
    st.integers(1, 60),
)
def test_the_fullest_filling_is_the_best_of_all(items: list[tuple[int, int, int]], room: int) -> None:
    lengths, worths, limits = (list(column) for column in zip(*items, strict=True))
    fill = fullest(lengths, worths, limits, room)
    reach = {0: 0}  # worth by length used, every filling
    for length, worth, limit in items:
        for _ in range(limit):
            for used, value in list(reach.items()):
                if used + length <= room:
                    reach[used + length] = max(reach.get(used + length, 0), value + worth)
    assert fill.worth == max(reach.values()) == fill.most
    assert sum(n * length for n, length in zip(fill.counts, lengths, strict=True)) <= room


def test_a_filling_cut_short_still_has_a_ceiling() -> None:
    lengths, worths, limits = [31, 29, 23, 19, 17], [30, 29, 22, 19, 16], [9] * 5
    whole = fullest(lengths, worths, limits, 200)
    short = fullest(lengths, worths, limits, 200, nodes=3)
    assert short.worth <= whole.worth <= short.most


def test_a_scale_without_stock_is_too_much() -> None:
    wants = (Want("p", 1, 10 * MM, 10 * MM),)
    stocks = (Stock("none", 100 * MM, 100 * MM, have=0), replace(sheet("1", "1"), id="tiny"))
    assert refused(lay_out(stocks, (Want("p", 1, 50 * MM, 50 * MM),), Rules(0))).reason.proven
    assert refused(lay_out(stocks[:1], wants, Rules(0))).reason.proven
