"""Pooling findings: against the general least squares of a reference library, and the covariance of a line."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.measure.estimate import ErrorSource, UncertainValue, covariance
from trued.measure.fitting.line import fit_line
from trued.standing.pooled.least_squares_pool import pooled, pooled_pair, pooled_spread

IN = 25.4


def _pair(run: str, x: float, y: float, a: float, b: float, c: float) -> tuple[UncertainValue, UncertainValue]:
    """Two values with covariance L L^T, L = [[a, 0], [b, c]]."""
    one, two = ErrorSource(f"1@{run}", "one", 1.0), ErrorSource(f"2@{run}", "two", 1.0)
    return UncertainValue(x, {one: a}), UncertainValue(y, {one: b, two: c})


numbers = st.floats(-1.0, 1.0)
spreads = st.floats(0.1, 1.0)


@given(st.lists(st.tuples(numbers, numbers, spreads, numbers, spreads), min_size=1, max_size=5))
def test_pairs_are_pooled_like_general_least_squares(rows: list[tuple[float, ...]]) -> None:
    pairs = [_pair(str(i), *row) for i, row in enumerate(rows)]
    mine = pooled_pair({str(i): p[0] for i, p in enumerate(pairs)}, {str(i): p[1] for i, p in enumerate(pairs)})
    covariances = [np.array([[a, 0], [b, c]]) @ np.array([[a, 0], [b, c]]).T for *_, a, b, c in rows]
    information = sum(np.linalg.inv(m) for m in covariances)
    spread = np.linalg.inv(information)
    mean = spread @ sum(np.linalg.inv(m) @ np.array(row[:2]) for m, row in zip(covariances, rows, strict=True))
    assert [mine[0].value, mine[1].value] == pytest.approx(list(mean), rel=1e-6, abs=1e-9)
    assert mine[0].u == pytest.approx(math.sqrt(spread[0, 0]), rel=1e-6)
    assert covariance(*mine) == pytest.approx(spread[0, 1], rel=1e-6, abs=1e-9)


def test_a_run_that_found_one_of_the_two_sharpens_both() -> None:
    pair = _pair("a", 1.0, 0.5, 0.2, -0.15, 0.05)
    alone = UncertainValue.of(0.9, ErrorSource("3@b", "three", 0.1))
    first, second = pooled_pair({"a": pair[0], "b": alone}, {"a": pair[1]})
    gain = 0.2**2 / (0.2**2 + 0.1**2)  # by hand: the scalar update of a Gaussian pair
    assert first.value == pytest.approx(1.0 + gain * -0.1)
    assert second.value == pytest.approx(0.5 + (-0.03) / (0.2**2 + 0.1**2) * -0.1)
    later = UncertainValue.of(0.45, ErrorSource("4@c", "four", 0.1))
    assert pooled_pair({"a": pair[0]}, {"a": pair[1], "c": later})[1].u < pair[1].u


def test_a_mean_is_weighed_by_how_well_each_is_known() -> None:
    """By hand: 10 +- 1 and 13 +- 2 give (10 * 4 + 13) / 5 = 10.6 +- 2 / sqrt(5)."""
    mean = pooled(
        [UncertainValue.of(10.0, ErrorSource("a", "a", 1.0)), UncertainValue.of(13.0, ErrorSource("b", "b", 2.0))]
    )
    assert (mean.value, mean.u) == (pytest.approx(10.6), pytest.approx(2.0 / math.sqrt(5.0)))


BCG = (  # log relative risk and its variance of 13 trials (Colditz et al. 1994), as analysed everywhere; from memory
    *((-0.8893, 0.3256), (-1.5854, 0.1946), (-1.3481, 0.4154), (-1.4416, 0.0200), (-0.2175, 0.0512)),
    *((-0.7861, 0.0069), (-1.6209, 0.2230), (0.0120, 0.0040), (-0.4694, 0.0564), (-1.3713, 0.0730)),
    *((-0.3394, 0.0124), (0.4459, 0.5325), (-0.0173, 0.0714)),
)


def test_findings_that_contradict_each_other_are_spread_as_paule_and_mandel_do() -> None:
    """BCG trials: variance between 0.318, mean -0.715 with standard error 0.181; both from memory."""
    found = [UncertainValue.of(y, ErrorSource(str(n), "trial", math.sqrt(v))) for n, (y, v) in enumerate(BCG)]
    mean = pooled(found)
    assert (mean.value, mean.u, mean.dof) == (pytest.approx(-0.715, abs=2e-3), pytest.approx(0.181, abs=2e-3), 12.0)


def test_two_kerfs_far_apart_make_no_sharp_one() -> None:
    """practitioner 6: 0.1025 and a typed 0.1850, 58 deviations apart, became 0.1352 +- 0.0007."""
    mean = pooled([UncertainValue.of(x * IN, ErrorSource(str(x), "readings", 0.001 * IN)) for x in (0.1025, 0.1850)])
    assert mean.value == pytest.approx(0.14375 * IN) and mean.u == pytest.approx(0.04125 * IN, rel=1e-3)
    assert mean.dof == 1.0


def test_findings_that_agree_are_not_spread() -> None:
    near = [UncertainValue.of(x, ErrorSource(str(x), "a", 1.0)) for x in (10.0, 12.0, 13.0)]
    assert pooled(near).u == pytest.approx(1.0 / math.sqrt(3.0))


def test_scatters_are_pooled_by_their_squares() -> None:
    """The pooled variance of two samples: (4 · 3² + 9 · 2²) / 13 = 72 / 13, with 13 degrees of freedom."""
    one = UncertainValue.of(3.0, ErrorSource("a", "few parts", 3.0 / math.sqrt(8.0), 4))
    two = UncertainValue.of(2.0, ErrorSource("b", "few parts", 2.0 / math.sqrt(18.0), 9))
    both = pooled_spread([one, two])
    assert (both.value, both.dof) == (pytest.approx(math.sqrt(72.0 / 13.0)), pytest.approx(13.0))
    assert both.shares() == {"few parts": 1.0} and pooled_spread([one]) == one
    known = UncertainValue(2.5, {})
    assert pooled_spread([one, known]).value == pytest.approx(2.5)


def test_a_shared_limit_of_error_does_not_shrink() -> None:
    limit = ErrorSource("limit:caliper", "limit", 0.5)
    runs = [UncertainValue.of(1.0, ErrorSource(f"r{i}", "r", 0.1), limit) for i in range(100)]
    assert pooled(runs).u == pytest.approx(math.hypot(0.01, 0.5))


def test_a_finding_without_error_is_taken_as_it_is() -> None:
    assert pooled([UncertainValue(1.0), UncertainValue.of(2.0, ErrorSource("a", "a", 0.1))]).value == pytest.approx(1.0)


def test_one_and_the_same_error_in_both_does_not_break_the_weights() -> None:
    same = ErrorSource("s", "s", 0.1)
    pairs = {str(i): UncertainValue.of(1.0, same) for i in range(2)}
    assert pooled_pair(pairs, pairs)[0].value == pytest.approx(1.0)


def test_the_covariance_of_offset_and_slope_is_kept() -> None:
    """Worked by hand: lengths 6, 12, 24 in, s 0.002 in. At 14 in the line is known to 0.00115 in; without the
    covariance of its two numbers it would be taken for 0.0033.
    """
    offset, slope = fit_line([6.0, 12.0, 24.0], [0.004, 0.006, 0.010]).numbers("scale", "scale", 0.002, math.inf)
    one, two = pooled_pair({"a": offset}, {"a": slope})
    assert (one + two * 14.0).u == pytest.approx(0.00115, abs=5e-6)
    assert math.hypot(one.u, 14.0 * two.u) == pytest.approx(0.0033, abs=5e-5)
