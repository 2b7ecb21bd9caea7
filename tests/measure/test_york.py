"""A line with errors in both variables: Pearson's data with York's weights, against published solutions."""

import math

import numpy as np
import pytest
from scipy.optimize import least_squares, minimize
from tests.measure.data import columns

from trued.measure.fitting.line import fit_line
from trued.measure.fitting.york import fit_york

DATA = columns("pearson_york.csv")
X, Y = DATA["x"], DATA["y"]
UX, UY = ([1.0 / math.sqrt(w) for w in DATA[name]] for name in ("wx", "wy"))


def test_pearson_york() -> None:
    """Exact solution: Neri and others, J. Phys. E 22 (1989) 215; S / 8: Murray 1994."""
    line = fit_york(X, UX, Y, UY)
    assert line.offset == pytest.approx(5.47991022, abs=5e-9)
    assert line.slope == pytest.approx(-0.480533407, abs=5e-10)
    assert line.chi_square / line.dof == pytest.approx(1.483294149, abs=5e-9) and line.dof == 8


def test_the_standard_errors_are_york_s_of_2004() -> None:
    """York, Evensen, Lopez Martinez and De Basabe Delgado, Am. J. Phys. 72 (2004) 367: 0.295 and 0.0580 (from memory),
    at the adjusted points. Here the same from a reference library: the line and the true points together by least
    squares, and the inverse of its normal matrix. Errors at the observed points, or scaled by sqrt(S / 8), are others.
    """

    def residuals(sought: np.ndarray) -> np.ndarray:
        true_x = sought[2:]
        return np.concatenate([(X - true_x) / UX, (Y - sought[0] - sought[1] * true_x) / UY])

    found = least_squares(residuals, [5.5, -0.5, *X], x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    slopes: np.ndarray = np.asarray(found.jac, dtype=float)
    matrix = np.linalg.inv(slopes.T @ slopes)
    line = fit_york(X, UX, Y, UY)
    assert (line.offset_sd, line.slope_sd) == pytest.approx((0.295, 0.0580), abs=5e-5)
    assert (line.offset_sd, line.slope_sd) == pytest.approx(tuple(np.sqrt(np.diag(matrix)[:2])), rel=1e-6)
    assert line.covariance == pytest.approx(matrix[0, 1], rel=1e-6)


def test_equal_errors_give_pearson_s_own_line() -> None:
    """Pearson, Phil. Mag. 2 (1901) 559: y = 5.784 - 0.54556 x (from memory; recomputed -0.54556120, 5.78404377)."""
    line = fit_york(X, [0.1] * 10, Y, [0.1] * 10)
    assert (line.slope, line.offset) == pytest.approx((-0.54556120, 5.78404377), abs=5e-8)


def test_without_errors_in_x_it_is_ordinary_least_squares() -> None:
    """Recomputed: b = -0.53957727, a = 5.76118519; the other way round 1 / b = -0.56588893."""
    ordinary = fit_york(X, [1e-9] * 10, Y, [1.0] * 10)
    assert (ordinary.slope, ordinary.offset) == pytest.approx((-0.53957727, 5.76118519), abs=5e-8)
    assert (ordinary.slope, ordinary.offset) == pytest.approx((fit_line(X, Y).slope, fit_line(X, Y).offset), rel=1e-9)
    assert fit_york(X, [1.0] * 10, Y, [1e-9] * 10).slope == pytest.approx(-0.56588893, abs=5e-8)


def test_errors_that_go_together_turn_the_line() -> None:
    """Errors that move each point along the line itself cost nothing: the line is then found as if they were not."""
    truth = [5.0 - 0.5 * x for x in X]
    line = fit_york(X, [0.2] * 10, truth, [0.1] * 10, [-0.5] * 10)
    assert (line.slope, line.offset) == pytest.approx((-0.5, 5.0), abs=1e-12)
    apart, together = (fit_york(X, [0.2] * 10, Y, [0.1] * 10, [r] * 10) for r in (0.0, -0.9))
    assert together.slope_sd < apart.slope_sd


@pytest.mark.parametrize("seed", range(4))
def test_with_correlated_errors_it_is_the_least_of_the_weighted_squares(seed: int) -> None:
    """York 2004, eq. 1: the sum that the line makes least, here by a minimiser of a reference library."""
    r = [((seed * 7 + i * 3) % 9 - 4) / 5.0 for i in range(10)]

    def total(line: np.ndarray) -> float:
        rows = zip(X, Y, UX, UY, r, strict=True)
        return math.fsum(
            (y - line[0] - line[1] * x) ** 2 / (v * v + (line[1] * u) ** 2 - 2 * line[1] * c * u * v)
            for x, y, u, v, c in rows
        )

    found = fit_york(X, UX, Y, UY, r)
    best = minimize(total, np.array([5.5, -0.5]), method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-13})
    assert (found.offset, found.slope) == pytest.approx(tuple(best.x), abs=1e-6)
    assert found.chi_square == pytest.approx(best.fun, abs=1e-8)


def test_too_little_to_tell() -> None:
    with pytest.raises(ValueError, match="3 points"):
        fit_york([0.0, 1.0], [1.0] * 2, [0.0, 1.0], [1.0] * 2)
    with pytest.raises(ValueError, match="above 0"):
        fit_york([0.0, 1.0, 2.0], [1.0, 0.0, 1.0], [0.0, 1.0, 2.0], [1.0] * 3)


def test_points_that_do_not_settle() -> None:
    with pytest.raises(ValueError, match="did not settle"):
        fit_york(
            [0.0, 1.0, 1.0, 0.0], [1.0] * 4, [0.0, 1.0, 0.0, 1.0], [1.0, 0.3, 1.0, 0.3], [0.99, -0.99, 0.99, -0.99]
        )
