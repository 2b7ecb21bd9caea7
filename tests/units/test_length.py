"""A length is an exact number of millimetres, and behaves like one."""

import operator
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.units import MM_PER_INCH, Length, in_inches, in_mm

ratios = st.fractions(-10_000, 10_000, max_denominator=10**7)


@pytest.mark.parametrize(
    ("inches", "mm"), [("1", "25.4"), ("1/64", "0.396875"), ("1/32", "0.79375"), ("1/16", "1.5875"), ("1/8", "3.175")]
)
def test_the_inch_of_1959(inches: str, mm: str) -> None:
    # 1 in = 25.4 mm exactly since 1 July 1959 (seen second hand; 24 FR 5348 and NIST SP 811 App. B from memory).
    assert Length.from_in(Fraction(inches)).exact_mm == Fraction(mm)


def test_the_inch_and_the_foot_of_a_reference_library() -> None:
    constants = pytest.importorskip("scipy.constants")
    assert float(MM_PER_INCH) == constants.inch * 1000
    assert Length.from_in(12).mm == pytest.approx(constants.foot * 1000, rel=1e-15)


@given(ratios)
def test_inch_to_mm_and_back_is_the_identity(inches: Fraction) -> None:
    assert Length.from_in(inches).exact_in == inches


@given(st.floats(-1e5, 1e5))
def test_floats_come_back_within_one_rounding(inches: float) -> None:
    assert in_inches(in_mm(inches)) == pytest.approx(inches, rel=1e-15, abs=1e-300)


def test_floats_are_rounded_once() -> None:
    assert in_mm(0.5) == 12.7 and in_mm(Fraction(1, 64)) == 0.396875 and in_inches(12.7) == 0.5


@given(ratios, ratios, ratios.filter(bool))
def test_sums_products_and_order_are_those_of_the_ratios(one: Fraction, two: Fraction, times: Fraction) -> None:
    a, b = Length.from_mm(one), Length.from_mm(two)
    assert (a + b).exact_mm == one + two and (a - b).exact_mm == one - two
    assert (a * times).exact_mm == (times * a).exact_mm == one * times and (a / times).exact_mm == one / times
    assert (a < b, a <= b, a == b) == (one < two, one <= two, one == two)
    assert (-a).exact_mm == -one and abs(a).exact_mm == abs(one) and bool(a) == bool(one)
    assert a.mm == float(one)


def test_a_length_over_a_length_is_a_ratio() -> None:
    assert Length.from_in(3) / Length.from_in(4) == Fraction(3, 4)


def test_a_float_is_no_exact_length() -> None:
    with pytest.raises(TypeError, match="whole number or a Fraction, not float"):
        Length.from_mm(25.4)  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="holds a Fraction"):
        Length(25)  # type: ignore[arg-type]


@pytest.mark.parametrize("act", [operator.mul, operator.truediv])
def test_a_length_times_a_float_is_refused(act: object) -> None:
    with pytest.raises(TypeError, match="Fraction"):
        act(Length.from_mm(1), 0.5)  # type: ignore[operator]
