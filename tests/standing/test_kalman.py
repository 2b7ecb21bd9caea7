"""The filter of two states: a published rule, a general twin from linear algebra, and the best move by search."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from trued.standing.filtered.kalman import GaussianState

some = st.floats(-1e-3, 1e-3)
widths = st.floats(1e-6, 1e-3)


@pytest.mark.parametrize("start", ["flat", "very wide"])
def test_grubbs_harmonic_rule(start: str) -> None:
    """F. E. Grubbs, An optimum procedure for setting machines or adjusting processes (1954, reprinted in Journal of
    Quality Technology 15 (1983) 186-189): adjust by 1/n of the n-th deviation.

    Its case in full: flat prior on x (P0 / R >= 1e8), var(g) = 0 and g = 1, no settling, no drift, equal findings,
    every move carried out in full, no stop rule and no rounding.
    """
    r = (5e-5) ** 2
    deviations = [3.1e-4, -0.7e-4, 1.9e-4, 0.4e-4, -2.2e-4, 1.1e-4, 0.6e-4, -0.3e-4]
    belief = GaussianState.first(deviations[0], r, r, 1.0, 0.0)
    if start == "very wide":
        belief = GaussianState(0.0, 1.0, 1e12 * r, 0.0, 0.0).found(deviations[0], r, r)
    for n, deviation in enumerate(deviations, 1):
        if n > 1:
            belief = belief.found(deviation, r, r)
        assert belief.best_move == pytest.approx(deviation / n, rel=1e-9)
        belief = belief.moved(belief.best_move, 0.0)


def test_first_move_with_an_unknown_response_is_held_back() -> None:
    """1 / (1 + 0.3^2) = 0.917 of what was found: worked by hand from the minimum of E[(x - g u)^2]."""
    belief = GaussianState.first(3e-4, 1e-9, 1e-9, 1.0, 0.09)
    assert belief.best_move / 3e-4 == pytest.approx(0.917, abs=5e-4)


@given(some, st.floats(-1.5, 1.5), widths, st.floats(0.01, 0.5), st.floats(-0.9, 0.9), some, some, widths)
def test_one_move_and_one_finding_agree_with_plain_matrices(
    x: float, g: float, sx: float, sg: float, rho: float, u: float, z: float, sr: float
) -> None:
    """The textbook form of the Kalman filter, in matrices of a reference library."""
    p = np.array([[sx**2, rho * sx * sg], [rho * sx * sg, sg**2]])
    f, h = np.array([[1.0, -u], [0.0, 1.0]]), np.array([[1.0, 0.0]])
    mean, settle, r = np.array([x, g]), 3e-5, sr**2
    mean, p = f @ mean, f @ p @ f.T + np.diag([settle**2, 0.0])
    gain = p @ h.T / (h @ p @ h.T + r)
    mean, p = mean + (gain * (z - mean[0])).ravel(), (np.eye(2) - gain @ h) @ p
    mine = GaussianState(x, g, sx**2, rho * sx * sg, sg**2).moved(u, settle).found(z, r, 0.0)
    assert [mine.x, mine.g] == pytest.approx(list(mean), rel=1e-7, abs=1e-12)
    scale = max(sg**2, 1e-6)
    assert [mine.xx, mine.xg, mine.gg] == pytest.approx([p[0, 0], p[0, 1], p[1, 1]], rel=1e-5, abs=1e-9 * scale)


@given(some, st.floats(0.3, 1.5), widths, st.floats(0.01, 0.5), st.floats(-0.9, 0.9))
def test_no_other_move_does_better(x: float, g: float, sx: float, sg: float, rho: float) -> None:
    belief = GaussianState(x, g, sx**2, rho * sx * sg, sg**2)
    found = minimize_scalar(lambda k: belief.expected_square(k * 1e-3) * 1e8, bounds=(-20, 20), method="bounded")
    assert belief.expected_square(belief.best_move) <= belief.expected_square(found.x * 1e-3) * (1 + 1e-9)


def test_expected_square_is_what_draws_show() -> None:
    rng = np.random.default_rng(7)
    belief = GaussianState(3e-4, 0.9, (6e-5) ** 2, -0.4 * 6e-5 * 0.2, 0.04)
    draws = rng.multivariate_normal([belief.x, belief.g], [[belief.xx, belief.xg], [belief.xg, belief.gg]], 200_000)
    left = draws[:, 0] - draws[:, 1] * 2.5e-4
    assert belief.expected_square(2.5e-4) == pytest.approx(float(np.mean(left**2)), rel=0.02)


def test_the_part_owed_to_the_scatter_between_runs_is_followed_exactly() -> None:
    """With nothing but run scatter the part is the whole; with none it is nought; else the two add up."""
    steps = [(2.4e-4, 0.5e-4), (0.4e-4, -0.1e-4), (-0.2e-4, 0.2e-4)]

    def after(run: float, rest: float) -> GaussianState:
        belief = GaussianState.first(3e-4, run + rest, run, 1.0, 0.0)
        for u, z in steps:
            belief = belief.moved(u, 0.0).found(z, run + rest, run)
        return belief

    whole = after(2e-9, 0.0)
    assert whole.run_xx == pytest.approx(whole.xx, rel=1e-12)
    assert after(0.0, 2e-9).run_xx == 0.0
    assert after(1e-9, 1e-9).run_xx == pytest.approx(whole.xx / 2.0, rel=1e-12)


def test_the_run_part_with_a_learnt_response_is_what_draws_show() -> None:
    """Two runs with a move between: the estimate's error owed to the run scatter, drawn 100 000 times."""
    rng = np.random.default_rng(11)
    run, rest, u = 5e-5, 3e-5, 2.7e-4
    belief = GaussianState.first(3e-4, run**2 + rest**2, run**2, 1.0, 0.09).moved(u, 2e-5)
    s = belief.xx + run**2 + rest**2
    kx, kg = belief.xx / s, belief.xg / s
    one, two = rng.normal(0.0, run, (2, 100_000))
    after = belief.found(1e-4, run**2 + rest**2, run**2)
    assert after.run_xx == pytest.approx(float(np.var((1 - kx) * one + kx * two)), rel=0.02)
    assert after.run_gg == pytest.approx(float(np.var(kg * (two - one))), rel=0.02)


def test_a_finding_without_any_error_is_believed_once() -> None:
    belief = GaussianState.first(1e-4, 0.0, 0.0, 1.0, 0.0)
    assert belief.found(2e-4, 0.0, 0.0) == belief
    assert belief.doubted(1e-8).xx == 1e-8


def test_nothing_can_be_moved_where_no_move_arrives() -> None:
    assert GaussianState.first(1e-4, 1e-9, 0.0, 0.0, 0.0).best_move == 0.0


def test_density_of_a_finding_is_normal() -> None:
    """Standard normal density at 0 and 1: 0.398942 and 0.241971 (Abramowitz and Stegun, table 26.1)."""
    belief = GaussianState(0.0, 1.0, 0.75, 0.0, 0.0)
    assert math.exp(belief.log_chance(0.0, 0.25)) == pytest.approx(0.398942, abs=1e-6)
    assert math.exp(belief.log_chance(1.0, 0.25)) == pytest.approx(0.241971, abs=1e-6)
