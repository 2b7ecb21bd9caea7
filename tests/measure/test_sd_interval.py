"""A standard deviation as the thing that is measured."""

import numpy as np
import pytest
from scipy import stats

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.sd_interval import sd_interval, sd_uncertainty, spread_chance

S = EstimatedSd(2.0, 5)


def test_interval_against_a_reference_library() -> None:
    low, high = sd_interval(S)
    assert low == pytest.approx(2.0 * np.sqrt(5 / stats.chi2.ppf(0.975, 5)), rel=1e-9)
    assert high == pytest.approx(2.0 * np.sqrt(5 / stats.chi2.ppf(0.025, 5)), rel=1e-9)


def test_interval_of_ten_readings_as_printed() -> None:
    """For 9 degrees of freedom the factors are 0.688 and 1.826 (from memory; 9 / 19.0228 and 9 / 2.7004)."""
    low, high = sd_interval(EstimatedSd(1.0, 9))
    assert (low, high) == pytest.approx((0.688, 1.826), abs=5e-4)


def test_chance() -> None:
    assert spread_chance(S, None, 3.0) == pytest.approx(stats.chi2.sf(5 * 4 / 9, 5), rel=1e-9)
    assert spread_chance(S, 1.0, 3.0) == pytest.approx(stats.chi2.sf(20 / 9, 5) - stats.chi2.sf(20, 5), rel=1e-9)
    assert spread_chance(S, 1.0, None) == pytest.approx(1 - stats.chi2.sf(20, 5), rel=1e-9)
    assert spread_chance(S, None, 0.0) == 0.0 and spread_chance(S, None, None) == 1.0


def test_to_first_order() -> None:
    """GUM E.4.3: the standard deviation of s is s / sqrt(2 n), n its degrees of freedom; 24 % for 10 readings."""
    assert sd_uncertainty("k", "few parts", S).u == pytest.approx(2.0 / np.sqrt(10))
    assert sd_uncertainty("k", "few", EstimatedSd(1.0, 9)).u == pytest.approx(0.24, abs=0.005)


def test_coverage_with_four_parts() -> None:
    rng = np.random.default_rng(3)
    held = 0
    for _ in range(2000):
        low, high = sd_interval(EstimatedSd(float(np.std(rng.normal(0, 1.7, 4), ddof=1)), 3))
        held += low <= 1.7 <= high
    assert 0.93 <= held / 2000 <= 0.97
