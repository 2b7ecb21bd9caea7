"""Percent, temperature, mass, force, count and turns: what is typed, what it is inside, what is refused."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.errors import InputRefused
from trued.units import (
    read_count,
    read_force,
    read_mass,
    read_percent,
    read_temperature,
    read_thread,
    read_turns,
)

Reader = Callable[..., float]


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (read_percent, "8.5 %", 8.5),
        (read_percent, "8,5", 8.5),
        (read_temperature, "70F", 190 / 9),
        (read_temperature, "21C", 21.0),
        (read_temperature, "-5 °C", -5.0),
        (read_temperature, "−40 ° F", -40.0),
        (read_mass, "12lb", 5.44310844),
        (read_mass, "12 1/2 lbs", 5.669904625),
        (read_mass, "5 kg", 5.0),
        (read_mass, "900g", 0.9),
        (read_mass, "16oz", 0.45359237),
        (read_force, "60N", 60.0),
        (read_force, "6 kgf", 58.8399),
        (read_count, "7", 7),
        (read_count, " 007 ", 7),
        (read_turns, "1/24turn", 1 / 24),
        (read_turns, "0.125 turns", 0.125),
        (read_turns, "1 1/3 turns", 4 / 3),
        (read_turns, "½ turn", 0.5),
    ],
)
def test_what_is_typed(read: Reader, text: str, value: float) -> None:
    """By hand: 1 lb = 0.45359237 kg, 16 oz to it (exact, NIST SP 811, B.8, from memory), 1 kgf = 9.80665 N (exact, 3rd
    CGPM 1901, from memory), C = (F - 32) / 1.8; the pound, the ounce and the kgf once more by a reference library
    below."""
    assert read(text) == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    ("read", "text", "why"),
    [
        (read_percent, "-1 %", "has no sign"),
        (read_percent, "x", "as 8.5 %"),
        (read_percent, "8 kg", "At “kg”"),
        (read_temperature, "40", "with F or C"),
        (read_temperature, "21K", "with F or C"),
        (read_temperature, "cold", "with F or C"),
        (read_temperature, "-300C", "as cold as that"),
        (read_mass, "12", "with its unit"),
        (read_mass, "5 stone", "At “stone”"),
        (read_force, "15lb", "as 15lbf"),
        (read_count, "7.5", "whole number"),
        (read_count, "-1", "whole number"),
        (read_count, "", "whole number"),
        (read_count, "12345678", "whole number"),
        (read_turns, "1/24", "1/24turn"),
        (read_turns, "-1 turn", "has no sign"),
        (read_turns, "1/1000 turn", "1 to 999"),
        (read_turns, "1/0 turn", "divided by 0"),
    ],
)
def test_what_is_refused(read: Reader, text: str, why: str) -> None:
    with pytest.raises(InputRefused, match=why) as refused:
        read(text, where="here")
    assert [(fault.where, fault.read) for fault in refused.value.faults] == [("here", text)]


def test_pounds_ounces_and_degrees_of_a_reference_library() -> None:
    constants = pytest.importorskip("scipy.constants")
    assert read_mass("1lb") == pytest.approx(constants.pound, rel=1e-15)
    assert read_mass("1oz") == pytest.approx(constants.oz, rel=1e-15)
    assert read_force("15lbf") == pytest.approx(15 * constants.lbf, rel=1e-15)
    assert read_force("1kgf") == constants.kgf
    assert read_temperature("70F") == pytest.approx(constants.convert_temperature(70, "F", "C"), rel=1e-12)


READERS = [read_count, read_force, read_mass, read_percent, read_temperature, read_thread, read_turns]


@given(st.sampled_from(READERS), st.text("0123456789 ./,-−½°#xMFClbfNkgturns%mi", max_size=20) | st.text(max_size=70))
def test_any_text_gives_a_number_or_a_refusal(read: Reader, text: str) -> None:
    outcome = read_or_refusal(read, text)
    assert len(outcome.faults) == 1 if isinstance(outcome, InputRefused) else math.isfinite(outcome)


def read_or_refusal(read: Reader, text: str) -> float | InputRefused:
    try:
        return read(text)
    except InputRefused as refused:
        return refused
