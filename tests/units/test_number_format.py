"""Quantities as they are written. Expected texts are those of the rules of wording and of the trade (common practice):
thousandths of an inch, hundredths of a millimetre, ten-thousandths of an inch a foot; factors from memory of the
international pound (0.45359237 kg, 1959) and of the foot (304.8 mm)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.units import Unit
from trued.units import number_format as nf


@pytest.mark.parametrize(
    ("value", "kind", "unit", "text"),
    [
        (0.3048, "mm", "in", "0.012 in"),
        (0.3048, "mm", "mm", "0.30 mm"),
        (-0.3048, "mm", "in", "-0.012 in"),
        (0.0, "mm", "in", "0 in"),
        (1e-15, "rad", "in", "0 in/ft"),
        (0.0005, "rad", "in", "0.0060 in/ft"),  # 12 × 0.0005
        (0.0005, "rad", "mm", "0.15 mm/300 mm"),  # 300 × 0.0005
        (0.001, "mm/mm", "in", "0.0120 in/ft"),
        (8.5, "%", "in", "8.5%"),
        (0.002, "mm", "mm", "0.002 mm"),  # never 0.00
        (0.001, "mm", "in", "0.00004 in"),  # never 0.000
    ],
)
def test_places_of_the_trade(value: float, kind: str, unit: Unit, text: str) -> None:
    assert nf.quantity(value, kind, unit) == text


def test_a_number_gets_the_places_of_its_limit() -> None:
    half = 0.0005 * 25.4
    assert nf.quantity(0.003 * 25.4, "mm", "in", limits=(half,)) == "0.0030 in"
    assert nf.quantity(half, "mm", "in", limits=(half,)) == "0.0005 in"


def test_a_number_never_rounds_onto_or_across_its_limit() -> None:
    limit = 0.005 * 25.4
    assert nf.quantity(0.0052 * 25.4, "mm", "in", limits=(-limit, limit)) == "0.0052 in"
    assert nf.quantity(0.0048 * 25.4, "mm", "in", limits=(-limit, limit)) == "0.0048 in"
    assert nf.quantity(limit, "mm", "in", limits=(-limit, limit)) == "0.005 in"


@given(st.floats(-10.0, 10.0), st.floats(0.01, 5.0), st.sampled_from(("in", "mm")))
def test_what_is_printed_lies_on_its_side_of_the_limit(value: float, limit: float, unit: Unit) -> None:
    """A reader who compares the two printed numbers decides as the program does; down to a ten-millionth."""
    shown, edge = nf.in_unit(value, "mm", unit), nf.in_unit(limit, "mm", unit)
    printed = float(nf.quantity(value, "mm", unit, limits=(limit,), bare=True))
    beside = float(nf.quantity(limit, "mm", unit, limits=(limit,), bare=True))
    if abs(shown - edge) > 0.02 and abs(beside - edge) < 1e-9:
        assert (printed > beside) == (shown > edge)
    assert abs(printed - shown) <= 0.5 * 10 ** -nf.places_for("mm", unit) + 1e-12


@pytest.mark.parametrize(
    ("p", "text"), [(0.0, "under 1%"), (0.77, "77%"), (0.9901, "over 99%"), (1.0, "over 99%"), (0.01, "1%")]
)
def test_a_chance_is_a_whole_percent_and_never_certain(p: float, text: str) -> None:
    assert nf.percent(p) == text


def test_a_range_of_chances() -> None:
    assert nf.percent_range(0.18, 0.69) == "18-69%"
    assert nf.percent_range(0.0, 0.12) == "under 1% to 12%"
    assert nf.percent_range(0.995, 0.999) == "over 99%"


def test_an_inch_book_weighs_in_pounds_and_lays_out_square_feet() -> None:
    assert nf.area(2.021e6, "in") == "22 sq ft"  # 2.021 / 0.3048² = 21.75
    assert nf.area(2.021e6, "mm") == "2.02 m²"
    assert nf.weight(0.45359237 * 3, "in") == "3 lb"
    assert nf.force(12.0, "in") == "2.7 lb"  # 12 / (0.45359237 × 9.80665) = 2.70
    assert nf.force(12.0, "mm") == "12 N"
    assert nf.degrees(math.radians(0.0286)) == "0.029°"
