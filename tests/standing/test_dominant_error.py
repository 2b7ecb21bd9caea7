"""A run's errors told apart by whose they are: the instrument's limit, reading, seating."""

from __future__ import annotations

import math

import pytest

from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.series.dominant_error import Cause, DominantError
from trued.standing.dominant_error import saw_or_measuring

SEATING = ErrorSource("run:five-cut", "seating", 5e-5, 4)
LIMIT = ErrorSource("limit:caliper", "limit", 1e-5)
READING = ErrorSource("caliper@free_end", "reading", 2e-5, 6)
USUAL = EstimatedSd(5e-5, 4)


def asked(
    *values: float, limits: ToleranceLimits | None = None, usual: EstimatedSd | None = USUAL
) -> DominantError | None:
    runs = [UncertainValue.of(value, SEATING, LIMIT, READING) for value in values]
    return saw_or_measuring(
        runs, limits or ToleranceLimits.within(2e-4), usual, run_minutes=15, say=lambda x: f"{1000 * x:.3f} mrad"
    )


def test_off_by_more_than_everything() -> None:
    found = asked(6e-4)
    assert found is not None and found.cause is Cause.SAW and found.reading == pytest.approx(2e-5)
    assert "0.600 mrad" in found.text and not found.cheapest


def test_within_what_seating_does() -> None:
    """t at 4 degrees of freedom is 2.776; with reading 2.776 hypot(5e-5, 2e-5) = 1.5e-4; reading alone does 5.5e-5."""
    found = asked(1.2e-4)
    assert found is not None and found.cause is Cause.CANNOT_TELL and "15 minutes" in found.cheapest
    assert 2.776 * math.hypot(5e-5, 2e-5) > 1.2e-4 > 5.5e-5


def test_within_what_reading_does() -> None:
    found = asked(3e-5)
    assert found is not None and found.cause is Cause.MEASURING and "shows no error" in found.text


def test_off_is_off_the_middle_of_the_limits() -> None:
    found = asked(3e-4, limits=ToleranceLimits(0.0, 6e-4))
    assert found is not None and found.difference == pytest.approx(0.0)


def test_what_cannot_be_told_apart_is_not_told() -> None:
    assert asked(1e-3, limits=ToleranceLimits(None, 2e-4)) is None
    assert asked(1e-3, usual=None) is None
    assert asked() is None
    alone = [UncertainValue.of(1e-3, LIMIT, READING)]
    assert saw_or_measuring(alone, ToleranceLimits.within(2e-4), USUAL, run_minutes=1, say=str) is None
