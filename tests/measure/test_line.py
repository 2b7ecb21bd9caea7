"""The straight line: NIST's certified answer, a reference library, and its use with a better known scatter."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats
from tests.measure.data import columns

from trued.measure.estimate import covariance
from trued.measure.fitting.line import fit_line


def digits(got: float, certified: float) -> float:
    """Right digits, as NIST counts them: -log10 of the relative error."""
    return 17.0 if got == certified else -math.log10(abs(got - certified) / abs(certified))


def test_nist_strd_norris() -> None:
    """NIST StRD, linear regression, Norris: certified values to 10 digits and more (seen in the NIST file)."""
    data = columns("norris.csv")
    line = fit_line(data["x"], data["y"])
    assert digits(line.offset, -0.262323073774029) >= 10
    assert digits(line.slope, 1.00211681802045) >= 10
    assert digits(line.offset_sd, 0.232818234301152) >= 10
    assert digits(line.slope_sd, 0.429796848199937e-03) >= 10
    assert digits(line.s, 0.884796396144373) >= 10
    assert line.dof == 34 and line.n == 36


def test_norris_as_uncertain_numbers() -> None:
    """The pair built from height and slope has the same standard deviations and covariance."""
    data = columns("norris.csv")
    line = fit_line(data["x"], data["y"])
    offset, slope = line.numbers("k", "fit")
    assert digits(offset.u, line.offset_sd) >= 10 and digits(slope.u, line.slope_sd) >= 10
    assert covariance(offset, slope) == pytest.approx(line.covariance, rel=1e-10)
    assert offset.dof == pytest.approx(34) and (offset + 500.0 * slope).dof == pytest.approx(34)


@given(st.lists(st.tuples(st.floats(-100, 100), st.floats(-100, 100)), min_size=3, max_size=12))
def test_a_reference_library_fits_the_same_line(points: list[tuple[float, float]]) -> None:
    xs, ys = [round(x, 2) for x, _ in points], [round(y, 2) for _, y in points]
    assume(np.ptp(xs) >= 1.0 and np.ptp(ys) >= 1.0)
    line, theirs = fit_line(xs, ys), stats.linregress(xs, ys)
    assert line.slope == pytest.approx(theirs.slope, abs=1e-9)
    assert line.offset == pytest.approx(theirs.intercept, abs=1e-7)
    assert line.slope_sd == pytest.approx(theirs.stderr, abs=1e-6)
    assert line.offset_sd == pytest.approx(theirs.intercept_stderr, abs=1e-4)


def test_a_known_scatter_stands_in_for_the_residuals() -> None:
    """Three parts that happen to lie on a line do not make it exact."""
    line = fit_line([0.0, 1.0, 2.0], [0.0, 1.0, 2.0])
    assert line.s == 0.0
    offset, slope = line.numbers("k", "parts", s=0.3, dof=5)
    assert slope.u == pytest.approx(0.3 / math.sqrt(2)) and slope.dof == 5
    assert (offset + slope).u == pytest.approx(0.3 / math.sqrt(3))  # at the mean x the slope plays no part


def test_two_points_need_a_known_scatter() -> None:
    line = fit_line([1.0, 3.0], [2.0, 6.0])
    assert (line.offset, line.slope, line.s, line.dof) == (0.0, 2.0, 0.0, 0)
    assert line.numbers("k", "parts", s=1.0, dof=4)[1].u == pytest.approx(1 / math.sqrt(2))
    with pytest.raises(ValueError, match="degrees of freedom"):
        line.numbers("k", "parts")


@pytest.mark.parametrize(("xs", "ys"), [([1.0], [1.0]), ([1.0, 1.0, 1.0], [1.0, 2.0, 3.0]), ([1.0, 2.0, 3.0], [1.0])])
def test_no_line_through_one_place(xs: list[float], ys: list[float]) -> None:
    with pytest.raises(ValueError, match="2 different places"):
        fit_line(xs, ys)
