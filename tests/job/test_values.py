"""Values of a job that cannot be built wrong."""

from collections.abc import Callable
from fractions import Fraction

import pytest

from trued.errors import InputRefused
from trued.job.expression.parser import read_expression
from trued.job.expression.tree import Constant, Side
from trued.job.geometry.fit_spec import FitSpec
from trued.job.job import Job, Method
from trued.job.part import Part
from trued.job.size import Size
from trued.job.stock import Defect, StockLine

ONE, THREE = Size.typed("1"), Size.typed("3")
SIDE = Part("side", THREE, ONE, ONE)
BOARD = StockLine("B", THREE, THREE, ONE)
ZERO = Fraction(0)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Size(ZERO), "A size must be above 0, and this comes to 0 in (0 mm)."),
        (lambda: Size.typed("0"), "above 0"),
        (lambda: Part("a b", ONE, ONE, ONE), "write a_b"),
        (lambda: Part("", ONE, ONE, ONE), "write top_panel"),
        (lambda: Part("a", ONE, ONE, ONE, quantity=1001), "from 1 to 1000"),
        (lambda: StockLine(" ", ONE, ONE, ONE, have=-1, price=float("inf")), "Every line of stock needs an id"),
        (lambda: StockLine("B", ONE, ONE, ONE, trim_ends_mm=(Fraction(-1), ZERO)), "A trim is 0 or more"),
        (lambda: FitSpec("f", Constant(ZERO), "0", ZERO, None, "snug"), "A fit is one of clearance"),
        (lambda: Job("j", "in", ()), "A job needs at least one part"),
        (lambda: Job("j", "in", (SIDE,), method=Method.ROUGH), "needs an allowance"),
        (lambda: Job("j", "in", (SIDE, SIDE), (BOARD, BOARD)), "is there more than once"),
    ],
)
def test_refused(make: Callable[[], object], said: str) -> None:
    with pytest.raises(InputRefused) as caught:
        make()
    assert said in str(caught.value)


def test_all_that_is_wrong_with_a_value_at_once() -> None:
    with pytest.raises(InputRefused) as caught:
        StockLine(" ", ONE, ONE, ONE, have=-1, price=float("inf"))
    assert len(caught.value.faults) == 3
    with pytest.raises(InputRefused) as caught:
        Job("j", "in", (SIDE, SIDE), (BOARD, BOARD))
    assert [fault.where for fault in caught.value.faults] == ['[[part]] "side"', '[[stock]] "B"']


def test_a_defect_has_a_place_and_a_size() -> None:
    with pytest.raises(ValueError, match="two sizes above 0"):
        Defect(ZERO, ZERO, ZERO, Fraction(1))


def test_a_size_by_itself() -> None:
    assert Size(Fraction(127, 10)).text == "12.7mm" and Size(Fraction(127, 10)).node == Constant(Fraction(127, 10))
    assert Size.typed("18mm").exact_mm == Size.typed("18", "mm").exact_mm == 18


def test_sizes_of_a_part_by_side() -> None:
    assert dict(SIDE.sizes()) == {Side.LENGTH: THREE, Side.WIDTH: ONE, Side.THICKNESS: ONE}
    assert not SIDE.held_back and Part("a", THREE, None, ONE).held_back
    assert list(Part("a", ONE, ONE, ONE, quantity=3).copies) == [1, 2, 3]


def test_an_expression_is_the_same_wherever_it_stands() -> None:
    assert read_expression("t + 1in") == read_expression("  t  +  1in")
