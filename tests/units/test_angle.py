"""Angles: degrees, radians and slopes in; slope first, degrees second out."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.errors import InputRefused
from trued.units import Unit, read_angle, show_angle


@pytest.mark.parametrize(
    ("text", "rad"),
    [
        ("0.1deg", math.radians(0.1)),
        ("0.1°", math.radians(0.1)),
        ("22 1/2 degrees", math.pi / 8),
        ("45º", math.pi / 4),
        ("180°", math.pi),
        ("-0.1°", -math.radians(0.1)),
        ("0.003in/ft", math.atan(0.003 / 12)),
        ("0.003\"/1'", math.atan(0.003 / 12)),
        ('1/64" per ft', math.atan(1 / 64 / 12)),
        ("12in/ft", math.pi / 4),
        ("0.3mm/300mm", math.atan(0.001)),
        ("0.3 mm/300 mm", math.atan(0.001)),
        ("−0,3 mm / 300 mm", -math.atan(0.001)),
        ("1mm/m", math.atan(0.001)),
        ("1.2mrad", 0.0012),
        ("0.0002rad", 0.0002),
        ("12 µrad", 12e-6),
        ("0°", 0.0),
    ],
)
def test_every_form_of_an_angle(text: str, rad: float) -> None:
    assert read_angle(text) == pytest.approx(rad, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("0.1", "The unit is missing"),
        ("1/2", "The unit is missing"),
        ("0.3/300mm", "At “/300mm”: Both lengths of a slope need a unit"),
        ("0.3mm/300", "At “300”: Say the unit here"),
        ("5 rod", "At “rod”: This unit is not known"),
        ("0.3mm/0mm", "At “0mm”: A slope needs a length"),
        ("0.3mm/-300mm", "At “-”: This length has no sign"),
        ("0.3mm/300mm/2mm", "A slope is one length over another"),
        ("x/ft", "A length is written with digits"),
        ("1in/yard", "A length is written with digits"),
        ("1,500deg", "A comma with three digits"),
        ("1/3°", "A fraction has 2, 4, 8"),
        ("", "Write an angle as"),
        ("steep", "Write an angle as"),
    ],
)
def test_a_doubtful_angle_is_refused(text: str, why: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_angle(text, where="angle")
    (fault,) = refused.value.faults
    assert (fault.where, fault.read) == ("angle", text) and why in fault.text


@pytest.mark.parametrize(
    ("rad", "unit", "text"),
    [
        (0.0003, "in", "0.0036 in/ft (0.0172°)"),
        (0.0003, "mm", "0.09 mm per 300 mm (0.017°)"),
        (-0.0003, "in", "-0.0036 in/ft (-0.0172°)"),
        (-1e-9, "in", "0.0000 in/ft (0.0000°)"),
        (-1e-9, "mm", "0.00 mm per 300 mm (0.000°)"),
        (math.pi / 4, "in", "45.0000°"),
        (math.pi / 2, "mm", "90.000°"),
    ],
)
def test_a_slope_first_and_degrees_second(rad: float, unit: Unit, text: str) -> None:
    assert show_angle(rad, unit) == text


@given(st.floats(-0.2, 0.2), st.sampled_from([("in", 12, 5e-5), ("mm", 300, 5e-3)]))
def test_the_slope_that_is_shown_reads_back_within_half_a_step(rad: float, way: tuple[Unit, int, float]) -> None:
    unit, run, half_step = way
    slope, _, degrees = show_angle(rad, unit).partition(" (")
    assert abs(math.tan(read_angle(slope)) - math.tan(rad)) * run <= half_step * 1.0001
    assert abs(read_angle(degrees.rstrip(")")) - rad) <= math.radians(half_step if unit == "in" else 5e-4) * 1.0001


@given(st.text("0123456789 ./,'\"-−°½degradmiftpn\n", max_size=70) | st.text(max_size=70))
def test_any_text_gives_an_angle_or_a_refusal(text: str) -> None:
    outcome = read_or_refusal(text)
    assert len(outcome.faults) == 1 if isinstance(outcome, InputRefused) else math.isfinite(outcome)


def read_or_refusal(text: str) -> float | InputRefused:
    try:
        return read_angle(text)
    except InputRefused as refused:
        return refused
