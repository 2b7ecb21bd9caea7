"""Slow twins on small random jobs: an integer program over all fillings, and a recursion over all guillotine cuts."""

from functools import cache
from itertools import product

import numpy as np
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from trued.plan.lay_out import lay_out
from trued.plan.layout.pieces import PartGrain, Rules, Stock, StockGrain, Want
from trued.plan.layout.result import Layout, NoLayout

FINE = 1_000
"""Twins count in small whole numbers; one of them is so many units, so that a part's own cut costs nothing there."""

Job = tuple[list[tuple[int, int, int]], list[tuple[int, int]], int]


@st.composite
def board_jobs(draw: st.DrawFn) -> Job:
    """Boards (length, price, have), parts (length, copies), kerf."""
    stock = [
        (draw(st.integers(12, 40)), draw(st.integers(1, 9)), draw(st.integers(1, 4)))
        for _ in range(draw(st.integers(1, 3)))
    ]
    wants = [(draw(st.integers(3, 14)), draw(st.integers(1, 4))) for _ in range(draw(st.integers(1, 4)))]
    return stock, wants, draw(st.integers(0, 2))


def least_cost(job: Job) -> float | None:
    """The least cost of boards by an integer program over every filling; None when there are not enough boards."""
    stock, wants, kerf = job
    columns, costs, rows = [], [], []
    for number, (length, price, _) in enumerate(stock):
        for filling in product(*(range(copies + 1) for _, copies in wants)):
            if (
                any(filling)
                and sum(n * (size + kerf) for n, (size, _) in zip(filling, wants, strict=True)) <= length + kerf
            ):
                columns.append(filling)
                costs.append(price)
                rows.append(number)
    if not columns:
        return None
    parts = np.array(columns).T
    boards = np.array([[row == number for row in rows] for number in range(len(stock))], dtype=float)
    found = milp(
        np.array(costs, dtype=float),
        constraints=[
            LinearConstraint(parts, [copies for _, copies in wants], np.inf),
            LinearConstraint(boards, 0, [have for _, _, have in stock]),
        ],
        integrality=np.ones(len(costs)),
        bounds=Bounds(0, np.inf),
    )
    return float(found.fun) if found.success else None


@settings(max_examples=80)
@example(([(13, 3, 2), (12, 1, 3)], [(6, 4)], 1))  # the integer program once took its start for the least
@given(board_jobs())
def test_boards_agree_with_an_integer_program(job: Job) -> None:
    stock, wants, kerf = job
    answer = lay_out(
        tuple(Stock(f"b{n}", s * FINE, FINE, have=have, price=price) for n, (s, price, have) in enumerate(stock)),
        tuple(Want(f"p{n}", copies, size * FINE, FINE) for n, (size, copies) in enumerate(wants)),
        Rules(kerf * FINE, remainder=True, effort=60),
    )
    least = least_cost(job)
    if isinstance(answer, Layout):
        assert least is not None
        assert answer.bound <= least + 1e-6
        assert answer.cost >= least - 1e-6
        assert answer.cost <= least * 1.35 + 1e-6 or answer.gap > 0
    else:
        assert least is None or not answer.reason.proven


Sheets = tuple[int, int, tuple[tuple[int, int], ...], bool, int]


@st.composite
def sheet_jobs(draw: st.DrawFn) -> Sheets:
    """Length and width of a sheet, parts one by one, whether they may turn, kerf."""
    parts = tuple((draw(st.integers(1, 6)), draw(st.integers(1, 6))) for _ in range(draw(st.integers(1, 5))))
    return draw(st.integers(4, 10)), draw(st.integers(4, 10)), parts, draw(st.booleans()), draw(st.integers(0, 1))


def can_be_cut(length: int, width: int, parts: tuple[tuple[int, int], ...], kerf: int, *, turn: bool) -> bool:
    """Whether all parts come out of one sheet, by trying every whole-numbered cut and every share of the parts."""

    @cache
    def holds(length: int, width: int, parts: tuple[tuple[int, int], ...]) -> bool:
        if sum(a * b for a, b in parts) > length * width:
            return False
        if len(parts) == 1:
            (a, b), *_ = parts
            return (a <= length and b <= width) or (turn and b <= length and a <= width)
        for side in product((False, True), repeat=len(parts) - 1):
            low = tuple(part for part, there in zip(parts, (True, *side), strict=True) if there)
            high = tuple(part for part, there in zip(parts, (True, *side), strict=True) if not there)
            if not high:
                continue
            if any(
                holds(at, width, low) and holds(length - at - kerf, width, high) for at in range(1, length - kerf)
            ) or any(
                holds(length, at, low) and holds(length, width - at - kerf, high) for at in range(1, width - kerf)
            ):
                return True
        return False

    return holds(length, width, parts)


def one_sheet(job: Sheets, effort: int) -> Layout | NoLayout:
    length, width, parts, turn, kerf = job
    sheet = Stock("sheet", length * FINE, width * FINE, have=1, grain=StockGrain.LENGTH)
    grain = PartGrain.ANY if turn else PartGrain.LENGTH
    wants = tuple(Want(f"p{n}", 1, a * FINE, b * FINE, grain) for n, (a, b) in enumerate(parts))
    return lay_out((sheet,), wants, Rules(kerf * FINE, remainder=True, effort=effort))


@settings(max_examples=150)
@given(sheet_jobs(), st.sampled_from([1, 40]))
def test_small_sheets_agree_with_every_cut_tried(job: Sheets, effort: int) -> None:
    length, width, parts, turn, kerf = job
    answer = one_sheet(job, effort)
    assert isinstance(answer, Layout) == can_be_cut(length, width, parts, kerf, turn=turn)
    if isinstance(answer, NoLayout):
        assert answer.reason.proven
