"""Boards by patterns: kept cases of buying boards, triplets of E. Falkenauer, small cases beside every way."""

import json
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trued.plan.bounds.board_patterns import Boards, dive, listed, relax, whole_boards
from trued.plan.lay_out import lay_out
from trued.plan.layout.pieces import PartGrain, Rules, Stock, Want
from trued.plan.layout.result import Ended, Layout
from trued.plan.rng import Rng

CASES = json.loads((Path(__file__).parents[1] / "data" / "cutting" / "boards.json").read_text(encoding="utf-8"))[
    "cases"
]
UNIT = 3_968_750  # 1/64 in


def plan_of(name: str, effort: int) -> Layout:
    case = CASES[name]
    stocks = tuple(
        Stock(
            stock["id"],
            stock["L"] * UNIT,
            stock["W"] * UNIT,
            stock["have"],
            stock["price"],
            (stock["trim"][0] * UNIT, stock["trim"][1] * UNIT),
            (stock["trim"][2] * UNIT, stock["trim"][3] * UNIT),
            offcut=stock["offcut"],
        )
        for stock in case["stocks"]
    )
    wants = tuple(
        Want(
            part["id"],
            part["n"],
            part["l"] * UNIT,
            part["w"] * UNIT,
            PartGrain.ANY if part["any"] else PartGrain.LENGTH,
        )
        for part in case["parts"]
    )
    layout = lay_out(stocks, wants, Rules(kerf=case["kerf"] * UNIT, effort=effort, seed=1))
    assert isinstance(layout, Layout)
    return layout


@pytest.mark.parametrize("name", [name for name, case in CASES.items() if case["kind"] == "1d"])
def test_no_board_is_bought_dearer_than_the_best_known(name: str) -> None:
    layout = plan_of(name, 2000)
    assert layout.cost <= CASES[name]["best_known"]
    assert layout.bound <= CASES[name]["best_known"]


@pytest.mark.parametrize("name", ["boards20_2", "boards40_2", "boards80_5", "ripboards30_1"])
def test_four_times_the_effort_never_ends_dearer(name: str) -> None:
    costs = [plan_of(name, effort).cost for effort in (125, 500, 2000)]
    assert costs == sorted(costs, reverse=True)


def test_the_same_effort_gives_the_same_plan() -> None:
    assert plan_of("boards40_5", 500).used == plan_of("boards40_5", 500).used


def test_a_proved_plan_says_so() -> None:
    assert plan_of("boards40_2", 2000).ended is Ended.PROVED


def triplets() -> Boards:
    """t60_00 of E. Falkenauer (1996), OR-Library binpack5: 20 bins of three, filled to the last tenth."""
    path = Path(__file__).parents[1] / "data" / "cutting" / "falkenauer.json"
    items = json.loads(path.read_text(encoding="utf-8"))["t60_00"]["items"]
    sizes = sorted(set(items), reverse=True)
    return Boards((tuple(sizes),), tuple(items.count(size) for size in sizes), (1000,), (1,), (60,))


def test_triplets_are_packed_as_published() -> None:
    boards = triplets()
    relaxed = relax(boards)
    assert relaxed is not None and relaxed.cost == pytest.approx(20.0)
    chance = Rng(1)
    plans = [plan for _ in range(6) if (plan := dive(boards, relaxed, chance)) is not None]
    assert min(plan.cost for plan in plans) == 20


def brute_force(boards: Boards) -> int:
    """The least cost of so few parts, by trying every pattern on every board in turn."""
    ways = []
    for stock, room in enumerate(boards.rooms):
        ranges = [range(count + 1) for count in boards.demand]
        fits = [
            c for c in product(*ranges) if sum(n * x for n, x in zip(c, boards.lengths[stock], strict=True)) <= room
        ]
        ways.append([counts for counts in fits if any(counts)])
    best = {boards.demand: 0}
    for stock, have in enumerate(boards.have):
        for _ in range(have):
            for left, cost in list(best.items()):
                for counts in ways[stock]:
                    after = tuple(max(0, a - b) for a, b in zip(left, counts, strict=True))
                    dearer = cost + boards.costs[stock]
                    if dearer < best.get(after, dearer + 1):
                        best[after] = dearer
    return best.get(tuple(0 for _ in boards.demand), -1)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_small_cases_cost_what_every_way_of_cutting_finds(data: st.DataObject) -> None:
    sizes = data.draw(st.lists(st.integers(10, 60), min_size=1, max_size=3, unique=True))
    demand = tuple(data.draw(st.integers(1, 3)) for _ in sizes)
    rooms = tuple(data.draw(st.lists(st.integers(60, 130), min_size=1, max_size=2)))
    costs = tuple(data.draw(st.integers(0 if len(rooms) > 1 and i else 1, 9)) for i, _ in enumerate(rooms))
    have = tuple(data.draw(st.integers(1, 3)) for _ in rooms)
    boards = Boards(tuple(tuple(sizes) for _ in rooms), demand, rooms, costs, have)
    least = brute_force(boards)
    relaxed = relax(boards)
    if relaxed is None:
        assert least == -1
        return
    patterns, every = listed(boards, relaxed, float(sum(costs) * 9), 10_000)
    plan, _ = whole_boards(boards, patterns, start=None, steps=10_000, stop=lambda: False)
    assert every
    if plan is None:
        assert least == -1
    else:
        assert plan.least and plan.cost == least
    dived = dive(boards, relaxed, Rng(3))
    if dived is not None:
        assert dived.cost >= least
