"""Numbers of a script become what a person would have typed, no more and no less."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.errors import InputRefused
from trued.library.as_typed import Readings, file_text, number_typed, readings_typed
from trued.units import read_length


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (1.0125, "1.0125"),
        (9.5, "9.5"),
        (24, "24"),
        (0.1 + 0.2, "0.3"),
        (1 / 3, "0.3333333"),
        (1e-5, "0.00001"),
        (-0.0, "0.0"),
        (-0.003, "-0.003"),
        (Decimal("0.500"), "0.500"),
        (Decimal("1E+1"), "10"),
        (np.float64(0.538), "0.538"),
        (np.float32(0.1), "0.1"),
        (np.int64(7), "7"),
        ("25 3/16", "25 3/16"),
    ],
)
def test_a_number_is_its_shortest_text(number: float, text: str) -> None:
    assert number_typed(number) == text


@given(st.integers(0, 9_999_999), st.integers(0, 7))
def test_what_was_read_is_meant_exactly(digits: int, places: int) -> None:
    """A float of at most seven decimals: the length is the decimal that was read, not the float's binary neighbour.

    Source: the shortest text that reads back as the same float (Python, documentation of `repr`, since 3.1).
    """
    meant = Fraction(digits, 10**places)
    assert read_length(number_typed(float(meant)), "mm").exact_mm == meant


@given(st.floats(-9e6, 9e6))
def test_any_float_is_read_within_half_of_the_seventh_decimal(x: float) -> None:
    read = read_length(number_typed(x), "mm", signed=True).exact_mm
    assert abs(read - Fraction(x)) <= Fraction(1, 2 * 10**7) + Fraction(math.ulp(x)) / 2


@pytest.mark.parametrize(
    "number", [math.nan, math.inf, -math.inf, True, None, 1j, [0.5], Fraction(1, 3), Decimal("NaN")]
)
def test_what_is_no_number_is_refused(number: object) -> None:
    with pytest.raises(InputRefused) as refused:
        number_typed(number, "length")
    assert refused.value.faults[0].where == "length"


def test_a_long_decimal_is_not_rounded_in_silence() -> None:
    text = number_typed(Decimal("0.123456789"))
    with pytest.raises(InputRefused, match="at most 7 digits"):
        read_length(text)


@pytest.mark.parametrize(
    ("readings", "texts"),
    [
        ({"a": 0.5}, ["a=0.5"]),
        ({"a": [0.5, 0.501], "b": "25 3/16"}, ["a=0.500", "a=0.501", "b=25 3/16"]),
        ({"a": (0.5, "caliper-1")}, ["a:caliper-1=0.5"]),
        ({"a": (0.5, 0.501)}, ["a=0.500", "a=0.501"]),
        ({"a": [(0.5, "c"), 0.501]}, ["a:c=0.500", "a=0.501"]),
        ({"a": {"left": 0.5, "right": [0.6, 0.7]}}, ["a@left=0.5", "a@right=0.6", "a@right=0.7"]),
        ({"a": {6: (0.5, "c")}, "b": {12.5: 1}}, ["a@6:c=0.5", "b@12.5=1"]),
        ({"a": np.array([0.25, 0.5])}, ["a=0.25", "a=0.50"]),
        ({"s@2-s@1": -0.003}, ["s@2-s@1=-0.003"]),
        (["a@left:c=0.500"], ["a@left:c=0.500"]),
        ({"a": 0.4375, "b": 0.5, "c": 3, "d": Decimal("0.5")}, ["a=0.4375", "b=0.5000", "c=3", "d=0.5"]),
    ],
)
def test_readings_come_as_typed(readings: Readings, texts: list[str]) -> None:
    assert readings_typed(readings) == texts


def test_a_unit_stands_behind_numbers_and_not_behind_texts() -> None:
    assert readings_typed({"a": [0.5, "1/2", (0.6, "c")]}, "mm") == ["a=0.5mm", "a=1/2", "a:c=0.6mm"]


def test_every_fault_is_told_at_once() -> None:
    with pytest.raises(InputRefused) as refused:
        readings_typed({"a": math.nan, "b": 0.5, "c": {"left": [0.1, math.inf]}})
    assert [fault.where for fault in refused.value.faults] == ["a", "c@left"]


@pytest.mark.parametrize("readings", ["a=0.5", {"a": None}, {"a": {"left": True}}])
def test_what_is_no_reading_is_refused(readings: Mapping[str, float]) -> None:
    with pytest.raises(InputRefused):
        readings_typed(readings)


def test_a_path_is_read_and_a_text_is_the_text(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("trued = 1\n", encoding="utf-8")
    assert file_text(tmp_path / "job.toml", "job") == file_text("trued = 1\n", "job")
    with pytest.raises(InputRefused, match=r"pathlib\.Path"):
        file_text("job.toml", "job")
