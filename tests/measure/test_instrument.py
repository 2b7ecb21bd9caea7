"""What one reading is worth: repeats shrink it where they can be seen, and the last digit never goes below its own."""

from __future__ import annotations

import pytest

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import DEFAULTS, Instrument

DIGIT = 0.01


def instrument(s: float) -> Instrument:
    """One that reads to 0.01 mm and repeats with that standard deviation."""
    return Instrument("mine", "caliper", DIGIT, 0.0, EstimatedSd(s, 10.0))


def own(s: float, n: int) -> float:
    """Standard uncertainty of the mean of n readings that all came out the same, its scatter given."""
    reading = instrument(s).read("at", "it", [25.4] * n, EstimatedSd(s, 10.0))
    (source,) = (source for source in reading.parts if source.key == "reading:at")
    return source.u


@pytest.mark.parametrize("s", [0.0, 0.001])
@pytest.mark.parametrize("n", [1, 4, 100])
def test_the_last_digit_is_an_even_spread(s: float, n: int) -> None:
    """GUM (JCGM 100:2008) F.2.2.1: an indication with steps of d has a standard uncertainty of d / sqrt(12) = 0.29 d,
    however often the same number comes."""
    assert own(s, n) == pytest.approx(0.29 * DIGIT, rel=5e-3)


@pytest.mark.parametrize("s", [0.5 * DIGIT, DIGIT, 1.5 * DIGIT, 5.0 * DIGIT])
def test_a_scatter_that_is_seen_shrinks_with_the_root_of_the_readings(s: float) -> None:
    """GUM 4.2.3."""
    assert own(s, 4) == pytest.approx(s / 2.0)


def test_a_scatter_below_half_a_digit_does_not() -> None:
    assert own(0.49 * DIGIT, 4) == pytest.approx(0.49 * DIGIT)


def test_an_entry_of_one_s_own_shows_marks_unless_it_says_otherwise() -> None:
    assert not instrument(DIGIT).digital and DEFAULTS["caliper"].digital


def test_a_limit_of_nought_may_be_entered_and_a_worse_one_not() -> None:
    assert instrument(DIGIT).limit == 0.0
    with pytest.raises(ValueError, match="limit of error 0 or more"):
        Instrument("mine", "caliper", DIGIT, -0.001, EstimatedSd(DIGIT, 10.0))
