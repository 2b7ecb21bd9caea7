"""Showing a length: rounded once, and what the rounding took away stays visible."""

import decimal
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.units import Length, Rounding, Shown, as_decimal, as_fraction, as_mm, read_length, show_length

denominators = st.sampled_from([2, 4, 8, 16, 32, 64, 128])
roundings: st.SearchStrategy[Rounding] = st.sampled_from(["nearest", "down", "up"])
ratios = st.fractions(-3000, 3000, max_denominator=10**6)


def inches(text: str) -> Length:
    return Length.from_in(Fraction(text))


@pytest.mark.parametrize(
    ("length", "text"),
    [
        ("13.391", "13 25/64 (+0.0004)"),
        ("13.3903", "13 25/64 (-0.0003)"),
        ("13.5", "13 1/2"),
        ("0.75", "3/4"),
        ("0", "0"),
        ("0.00003", "0"),
        ("0.001", "0 (+0.0010)"),
        ("-13.391", "-13 25/64 (-0.0004)"),
        ("-0.5", "-1/2"),
        ("13.99999", "14"),
    ],
)
def test_inches_are_shown_as_a_fraction_and_its_remainder(length: str, text: str) -> None:
    assert show_length(inches(length), "in") == text


def test_the_same_length_as_decimal_and_in_millimetres() -> None:
    length = inches("13.391")
    assert str(as_decimal(length)) == "13.3910" and as_decimal(length, 0).text == "13"
    assert show_length(length, "mm") == "340.13 mm" and as_mm(length, 4).text == "340.1314 mm"


def test_a_float_of_millimetres_is_shown_like_the_length_it_came_from() -> None:
    assert show_length(inches("25.1875").mm, "in") == "25 3/16"
    assert show_length(340.125, "mm", digits=2) == "340 mm" and show_length(12.7, "in", denominator=2) == "1/2"


def test_finer_and_coarser_remainders() -> None:
    assert show_length(inches("13.391"), "in", denominator=16, digits=3) == "13 3/8 (+0.016)"


@pytest.mark.parametrize(("rounding", "shown"), [("nearest", "1/64"), ("down", "0"), ("up", "1/64")])
def test_a_limit_is_rounded_to_its_own_side(rounding: Rounding, shown: str) -> None:
    assert as_fraction(inches("0.01"), rounding=rounding).text == shown


def test_of_two_equally_near_the_even_one_is_shown() -> None:
    # ISO 80000-1, annex B, rule A (from memory).
    assert [as_fraction(inches(text), 2).text for text in ("1/4", "3/4")] == ["0", "1"]


def test_a_fraction_that_no_rule_carries_is_a_fault_of_the_caller() -> None:
    with pytest.raises(ValueError, match="1/10"):
        as_fraction(inches("1"), 10)


def check(shown: Shown, exact: Length, step: Length, rounding: Rounding) -> None:
    assert shown.value + shown.remainder == exact
    if rounding == "nearest":
        assert abs(shown.remainder) * 2 <= step
    else:
        gap = shown.remainder if rounding == "down" else -shown.remainder
        assert Length.from_mm(0) <= gap < step


@given(ratios, denominators, roundings)
def test_shown_and_remainder_are_the_length_exactly(mm: Fraction, denominator: int, rounding: Rounding) -> None:
    exact = Length(mm)
    check(as_fraction(mm, denominator, rounding=rounding), exact, Length.from_in(Fraction(1, denominator)), rounding)
    check(as_decimal(exact, 4, rounding=rounding), exact, Length.from_in(Fraction(1, 10_000)), rounding)
    check(as_mm(exact, 2, rounding=rounding), exact, Length.from_mm(Fraction(1, 100)), rounding)


@given(ratios, denominators, roundings)
def test_what_is_shown_reads_back_as_what_it_says(mm: Fraction, denominator: int, rounding: Rounding) -> None:
    for shown in (as_fraction(mm, denominator, rounding=rounding), as_decimal(mm), as_mm(mm)):
        assert read_length(shown.text, signed=True) == shown.value


@given(ratios, denominators)
def test_fraction_and_printed_remainder_give_the_length_within_half_a_step(mm: Fraction, denominator: int) -> None:
    fraction, _, left = show_length(mm, "in", denominator=denominator).partition(" (")
    told = read_length(fraction, signed=True) + read_length(left.rstrip(")") or "0", signed=True)
    assert abs(told.exact_in - Length(mm).exact_in) <= Fraction(1, 20_000)


@given(st.decimals(-9999, 9999, places=6), roundings)
def test_decimals_round_as_the_decimal_arithmetic_of_the_language_does(number: Decimal, rounding: Rounding) -> None:
    modes = {"nearest": decimal.ROUND_HALF_EVEN, "down": decimal.ROUND_FLOOR, "up": decimal.ROUND_CEILING}
    shown = as_mm(Fraction(number), 2, rounding=rounding)
    assert shown.value.exact_mm == Fraction(number.quantize(Decimal("0.01"), modes[rounding]))
