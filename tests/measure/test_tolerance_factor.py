"""Tolerance factors and capability against the e-Handbook."""

from __future__ import annotations

from statistics import NormalDist

import pytest

from trued.measure.decision import ToleranceLimits, conformance_probability
from trued.measure.distribution.tolerance_factor import tolerance_factor
from trued.measure.estimate import ErrorSource, UncertainValue


def test_the_handbooks_example() -> None:
    """NIST/SEMATECH e-Handbook 7.2.6.3: n = 43, mean 97.07, s = 0.0268, 90 % content, 99 % confidence."""
    k = tolerance_factor(43, 0.90, 0.99)
    assert k == pytest.approx(2.2173159, abs=1e-6)
    assert 97.07 - k * 0.0268 == pytest.approx(97.010576, abs=1e-6)
    assert 97.07 + k * 0.0268 == pytest.approx(97.12942, abs=1e-5)


@pytest.mark.parametrize(
    ("n", "exact"),
    # exact two-sided factors, 95 % confidence, content 90, 95 and 99 %: integrated numerically
    [(5, (4.2906, 5.0769, 6.5980)), (10, (2.8563, 3.3934, 4.4369)), (50, (1.9990, 2.3816, 3.1288))],
)
def test_howes_approximation_is_near_the_exact_one(n: int, exact: tuple[float, ...]) -> None:
    for content, k in zip((0.90, 0.95, 0.99), exact, strict=True):
        assert tolerance_factor(n, content, 0.95) == pytest.approx(k, rel=0.015 if n == 5 else 0.007)


def test_the_capability_of_the_handbook() -> None:
    """e-Handbook 6.1.6: limits 8 and 20, mean 16, s 2: Cpu 0.6667 and Cpl 1.3333, so 3 Cpu and 3 Cpl standard
    deviations to the limits; the share within them is what the decision takes for its chance."""
    share = NormalDist().cdf(3 * 0.66667) - NormalDist().cdf(-3 * 1.33333)
    assert conformance_probability(
        UncertainValue.of(16.0, ErrorSource("own", "scatter", 2.0)), ToleranceLimits(8.0, 20.0)
    ) == pytest.approx(share, abs=1e-5)


def test_what_is_refused() -> None:
    with pytest.raises(ValueError, match="2 readings"):
        tolerance_factor(1, 0.9, 0.9)
    with pytest.raises(ValueError, match="between 0 and 1"):
        tolerance_factor(5, 1.0, 0.9)
    for content, confidence in ((0.0, 0.9), (0.9, 0.0), (0.9, 1.0), (1.2, 0.9), (0.9, 1.2)):
        with pytest.raises(ValueError, match="content and confidence"):
            tolerance_factor(5, content, confidence)


def test_two_readings_and_small_shares_are_taken() -> None:
    """Howe at n = 2, 95 % and 95 %: 1.96 √(1.5 / 0.003932) = 38.28; z(0.5025) is 0.006267."""
    assert tolerance_factor(2, 0.95, 0.95) == pytest.approx(38.28, abs=0.01)
    half = tolerance_factor(10, 0.005, 0.95) / tolerance_factor(10, 0.95, 0.95)
    assert half == pytest.approx(0.006267 / 1.959964, rel=1e-3)
    assert tolerance_factor(10, 0.9, 0.005) < tolerance_factor(10, 0.9, 0.01)
