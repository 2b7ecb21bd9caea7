"""Sessions of the benchmark, small: the exact filter against draws, and the advice against the exact filter.

docs/virtual-shop.md has the figures of thousands of shops; here 100 of them show that the order of things holds.
"""

import numpy as np
import pytest
from benchmarks.sessions import by_oracle
from benchmarks.virtual.by_advice import AFTER, EMPTY, NAMES, SECOND, sessions
from benchmarks.virtual.came import HEAD, Came, line
from benchmarks.virtual.exact import Exact
from benchmarks.virtual.lots import LAWS, TOLERANCE, Lot, drawn
from benchmarks.virtual.swing_told import Yaws
from scipy.stats import norm  # type: ignore[import-untyped]

SHOPS = 100
Sessions = dict[str, list[Came]]


@pytest.fixture(scope="module")
def lot() -> Lot:
    return drawn("log-uniform", 5, SHOPS)


@pytest.fixture(scope="module")
def tool(lot: Lot) -> Sessions:
    return sessions(lot, range(SHOPS))


@pytest.fixture(scope="module")
def oracle(lot: Lot) -> Sessions:
    return by_oracle(lot)


def _runs(came: list[Came]) -> float:
    return sum(one.runs for one in came) / len(came)


@pytest.mark.parametrize("law", LAWS)
def test_the_laws_of_yaw(law: str) -> None:
    """The first from 2e-5 to 3e-4, half below their geometric mean; both within what a cut may do."""
    yaw = drawn(law, 3, 20_000).yaw
    assert yaw.min() > 1e-6 and yaw.max() < 1e-3
    if law == "log-uniform":
        assert yaw.min() >= 2e-5 and yaw.max() <= 3e-4
        assert float(np.mean(yaw < (2e-5 * 3e-4) ** 0.5)) == pytest.approx(0.5, abs=0.02)


def test_a_run_scatters_as_the_filter_is_told() -> None:
    """Strips read in 4,000 shops at their corner, against the variance that the exact filter takes."""
    lot = drawn("log-uniform", 3, 4000)
    miss = lot.angles(np.arange(4000), lot.x, 0, 0) - lot.x
    assert float(np.mean(miss**2 / lot.run_variance)) == pytest.approx(1.0, abs=0.08)


@pytest.mark.parametrize(("second", "third"), [(5e-4, -1e-4), (1.2e-3, 2e-4), (-4e-4, -9e-4)])
def test_the_exact_filter_is_the_posterior(second: float, third: float) -> None:
    """Three runs with two moves between: against two million draws from the same laws, weighed by Bayes' rule."""
    rng, n, s, settling, u, v = np.random.default_rng(3), 2_000_000, 6e-5, 3e-5, 2.5e-3, 5e-4
    who = np.array([0])
    exact = Exact.first(1)
    for z, move in ((2.6e-3, u), (second, v), (third, 0.0)):
        exact.found(who, np.array([z]), np.array([s * s]))
        if move:
            exact.turned(who, np.array([move]), np.array([settling]), np.array([move == u]))
    told = exact.told(who)
    g = np.exp(0.25 * rng.standard_normal(n))
    play = np.where(rng.random(n) < 0.2, rng.uniform(0.0, 1.5e-4, n), 0.0)
    x = 2.6e-3 + s * rng.standard_normal(n) + play - g * u + settling * rng.standard_normal(n)
    weight = norm.pdf(second, x, s)
    x = x - g * v + settling * rng.standard_normal(n)
    weight *= norm.pdf(third, x, s)
    weight /= weight.sum()
    mean = float((weight * x).sum())
    assert float(told.moments.x[0]) == pytest.approx(mean, abs=2e-6)
    assert float(told.moments.xx[0]) == pytest.approx(float((weight * (x - mean) ** 2).sum()), rel=0.03)
    assert float(told.moments.g[0]) == pytest.approx(float((weight * g).sum()), abs=0.005)
    assert float(told.inside[0]) == pytest.approx(float(weight[np.abs(x) <= TOLERANCE].sum()), abs=0.01)


def test_hardly_more_runs_than_the_exact_filter(tool: Sessions, oracle: Sessions) -> None:
    assert _runs(tool[EMPTY]) <= 1.08 * _runs(oracle[EMPTY])
    assert _runs(tool[SECOND]) <= 1.15 * _runs(oracle[SECOND])
    assert _runs(tool[AFTER]) <= 3.6


def test_what_is_claimed_is_true_and_the_intervals_hold(tool: Sessions) -> None:
    for name in NAMES:
        claimed = [came for came in tool[name] if came.claimed]
        held = [held for came in tool[name] for held in came.held]
        assert len(claimed) >= 0.97 * SHOPS and sum(came.true for came in claimed) >= 0.96 * len(claimed)
        assert 0.92 <= sum(held) / len(held) <= 0.99


def test_nothing_is_turned_on_noise_and_nothing_run_for_ever(tool: Sessions) -> None:
    for came in tool.values():
        assert sum(one.needless for one in came) <= 0.08 * sum(one.moves for one in came)
        assert max(one.longest for one in came) <= 10


def test_a_line_for_each(tool: Sessions) -> None:
    assert len(line(EMPTY, tool[EMPTY])) == len(HEAD)


def test_the_yaw_is_weighed_by_bayes_rule(lot: Lot) -> None:
    """Two runs with nothing touched: only what they differ by tells of the yaw (scipy's normal density)."""
    who = np.arange(lot.shops)
    beliefs = Yaws(lot)
    before = beliefs.weights(who)
    beliefs.found(who, np.full(lot.shops, 1e-3), lot.run_variance)
    assert np.allclose(beliefs.weights(who), before)
    beliefs.found(who, np.full(lot.shops, 1.2e-3), lot.run_variance)
    told = before * norm.pdf(2e-4, 0.0, np.sqrt(2.0 * beliefs.r))
    assert np.allclose(beliefs.weights(who), told / told.sum(axis=1, keepdims=True), atol=1e-9)
