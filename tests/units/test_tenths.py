"""Whole tenths of a nanometre: exact for every inch fraction and every instrument, rounded to the safe side else."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.errors import InputRefused
from trued.units import Length, from_tenths_nm, read_length, tenths_nm, tenths_nm_down, tenths_nm_up


@pytest.mark.parametrize(
    ("text", "tenths"),
    # 25.4 mm to the inch (1959): 25.4e7/128 and 25.4e7 · 0.0001.
    [
        ("1/128", 1_984_375),
        ("0.0001", 25_400),
        ("13 25/64", 3_401_218_750),
        ("2440mm", 24_400_000_000),
        ("1'", 3_048_000_000),
    ],
)
def test_what_is_measured_is_whole(text: str, tenths: int) -> None:
    length = read_length(text)
    assert tenths_nm(length) == tenths_nm_up(length) == tenths_nm_down(length) == tenths


def test_a_third_of_an_inch_is_rounded_to_the_safe_side_or_refused() -> None:
    third = Length.from_in(Fraction(1, 3))
    assert (tenths_nm_down(third), tenths_nm_up(third)) == (84_666_666, 84_666_667)
    with pytest.raises(InputRefused, match="round it first") as refused:
        tenths_nm(third, "shelf")
    assert refused.value.faults[0].where == "shelf"


@given(st.fractions(-10_000, 10_000))
def test_up_and_down_hold_the_size_between_them(mm: Fraction) -> None:
    down, up = from_tenths_nm(tenths_nm_down(mm)), from_tenths_nm(tenths_nm_up(mm))
    assert down <= Length(mm) <= up and (up - down).exact_mm in (0, Fraction(1, 10_000_000))


@given(st.integers(-(10**12), 10**12))
def test_a_whole_number_of_tenths_comes_back(tenths: int) -> None:
    assert tenths_nm(from_tenths_nm(tenths)) == tenths
