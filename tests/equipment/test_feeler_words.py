"""How a step is set by feelers, in words."""

import re

import pytest

from trued.equipment.sides import feeler_words, settable_mm


@pytest.mark.parametrize(
    ("step_in", "said"),
    [
        (0.0050, "a 0.005 feeler"),
        (0.0054, "feelers 0.004 + 0.0015"),
        (0.0301, "feelers 0.025 + 0.005"),
        (0.0011, "a 0.0025 feeler"),
        (0.2500, "a 0.2500 in shim"),
    ],
)
def test_in_inches(step_in: float, said: str) -> None:
    words = feeler_words(step_in * 25.4, "in")
    assert words.feelers == said and words.bring


def test_less_than_two_feelers_differ_by_is_left_alone() -> None:
    words = feeler_words(0.0002 * 25.4, "in")
    assert not words.bring and words.feelers == "Too small to set with feelers. Leave it."


def test_in_millimetres_the_leaves_are_metric() -> None:
    assert feeler_words(0.15, "mm").feelers == "a 0.15 feeler"
    assert feeler_words(0.01, "mm").bring.startswith("Swap it for the ")
    assert "9.00 mm shim" in feeler_words(9.0, "mm").feelers


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("step_mm", [0.01, 0.03, 0.08, 0.137, 0.4, 0.9, 1.7])
def test_what_is_named_makes_the_step(unit: str, step_mm: float) -> None:
    """The leaves named add up to the step, or differ by it, within half of the least step of that set."""
    words = feeler_words(step_mm, unit)
    found = [float(n) * (25.4 if unit == "in" else 1.0) for n in re.findall(r"\d+\.\d+", words.feelers + words.bring)]
    made = found[0] - found[1] if "Swap" in words.bring else sum(found)
    assert made == pytest.approx(step_mm, abs=0.0065 if unit == "in" else 0.0051)


@pytest.mark.parametrize(
    ("step_in", "made_in"),
    [(0.0106, 0.0105), (0.0050, 0.0050), (0.0011, 0.0010), (0.0301, 0.0300), (0.0002, 0.0002), (0.2501, 0.2501)],
)
def test_what_is_ordered_is_what_feelers_make(step_in: float, made_in: float) -> None:
    """The leaves of a common set stand half a thousandth apart; what none of them makes is left as it is."""
    assert settable_mm(step_in * 25.4, "in") / 25.4 == pytest.approx(made_in, abs=1e-9)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("step_mm", [0.03, 0.08, 0.137, 0.4, 0.9, 1.7])
def test_a_step_that_feelers_make_stays(unit: str, step_mm: float) -> None:
    once = settable_mm(step_mm, unit)
    assert settable_mm(once, unit) == pytest.approx(once, abs=1e-9)
