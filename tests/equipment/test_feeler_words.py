"""How a step is set by feelers, in words."""

import re

import pytest

from trued.equipment.sides import feeler_words, settable_mm


@pytest.mark.parametrize(
    ("step_in", "said"),
    [
        (0.0050, "a 0.0050 in feeler"),
        (0.0054, "feelers of 0.0040 in and 0.0015 in together"),
        (0.0301, "feelers of 0.0250 in and 0.0050 in together"),
        (0.0011, "the thicker of two feelers that differ by 0.0010 in (0.0015 in, then 0.0025 in)"),
        (0.2500, "a shim of 0.2500 in, measured with a caliper,"),
    ],
)
def test_in_inches(step_in: float, said: str) -> None:
    words = feeler_words(step_in * 25.4, "in")
    assert words.feelers == said and words.bring


def test_less_than_two_feelers_differ_by_is_left_alone() -> None:
    words = feeler_words(0.0002 * 25.4, "in")
    assert not words.bring and "(0.0005 in): leave it" in words.feelers


def test_in_millimetres_the_leaves_are_metric() -> None:
    assert feeler_words(0.15, "mm").feelers == "a 0.15 mm feeler"
    assert feeler_words(0.01, "mm").feelers.startswith("the thicker of two feelers that differ by 0.01 mm")
    assert "shim of 9.00 mm" in feeler_words(9.0, "mm").feelers


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("step_mm", [0.01, 0.03, 0.08, 0.137, 0.4, 0.9, 1.7])
def test_what_is_named_makes_the_step(unit: str, step_mm: float) -> None:
    """The leaves named add up to the step, or differ by it, within half of the least step of that set."""
    words = feeler_words(step_mm, unit).feelers.partition("(")
    text = words[2] if "differ" in words[0] else words[0]
    found = [float(n) * (25.4 if unit == "in" else 1.0) for n in re.findall(r"\d+\.\d+", text)]
    made = found[1] - found[0] if "differ" in words[0] else sum(found)
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
