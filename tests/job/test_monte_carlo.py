"""The draws against JCGM 101:2008 (Monte Carlo) and JCGM 106:2012 (conformity), their printed values.

Tables 2 to 4 and 9.4: seen in a secondary copy, recomputed. 9.5 and the examples of 106: from memory, recomputed; not
tested tighter than they are known.
"""

import math
from collections.abc import Callable
from statistics import NormalDist

import numpy as np
import pytest
from numpy.random import Generator
from numpy.typing import NDArray

from trued.job.fits.monte_carlo import Draws, adaptive, shortest_interval, stands, symmetric_interval, tolerance
from trued.job.geometry.samples import Samples
from trued.measure.decision import ToleranceLimits, conformance_probability
from trued.measure.estimate import ErrorSource, Shape, UncertainValue

Array = NDArray[np.float64]


def drawn(values: list[UncertainValue]) -> tuple[Draws, Array, Array]:
    draws = Draws.of(values)
    return draws, *draws.matrix(values)


def sampled(*inputs: UncertainValue) -> Callable[[Generator, int], Array]:
    draws, means, rows = drawn(list(inputs))

    def sample(rng: Generator, count: int) -> Array:
        made: Array = (rows @ draws.draw(rng, count) + means[:, None]).sum(axis=0)
        return made

    return sample


def independent(shape: Shape, *u: float) -> list[UncertainValue]:
    return [UncertainValue.of(0.0, ErrorSource(f"x{i}", f"x{i}", one, shape=shape)) for i, one in enumerate(u)]


def test_four_normal_inputs() -> None:
    # 9.2.2, table 2: y 0, u 2.00, [-3.92, 3.92].
    found = adaptive(sampled(*independent(Shape.NORMAL, 1, 1, 1, 1)), seed=1)
    assert found.settled and found.draws >= 20_000
    assert found.mean == pytest.approx(0.0, abs=0.05) and found.u == pytest.approx(2.00, abs=0.05)
    assert found.interval == pytest.approx((-3.92, 3.92), abs=0.05)


def test_four_even_inputs() -> None:
    # 9.2.3, table 3: [-3.88, 3.88] as the shortest interval; exactly 2 sqrt(3) (2 - (3/5)^(1/4)) = 3.8794.
    found = adaptive(sampled(*independent(Shape.RECTANGULAR, 1, 1, 1, 1)), seed=2, shortest=True)
    assert found.u == pytest.approx(2.00, abs=0.05)
    assert found.interval == pytest.approx((-3.88, 3.88), abs=0.06)
    exact = 2.0 * math.sqrt(3.0) * (2.0 - 0.6**0.25)
    two_sided = adaptive(sampled(*independent(Shape.RECTANGULAR, 1, 1, 1, 1)), seed=3)
    assert two_sided.interval == pytest.approx((-exact, exact), abs=0.03)


def test_one_even_input_that_is_far_the_largest() -> None:
    # 9.2.4, table 4: u 10.1, [-17.0, 17.0], where the first order would say [-19.9, 19.9].
    found = adaptive(sampled(*independent(Shape.RECTANGULAR, 1, 1, 1, 10)), seed=4, digits=3)
    assert found.u == pytest.approx(10.15, abs=0.05)
    assert found.interval == pytest.approx((-17.0, 17.0), abs=0.05)
    assert 1.959964 * math.sqrt(103.0) == pytest.approx(19.9, abs=0.05)


@pytest.mark.parametrize(
    ("x1", "mean", "u", "interval"),
    [
        (0.0, 50e-6, 50e-6, (0.0, 150e-6)),
        (0.010, 150e-6, 112e-6, (0.0, 367e-6)),
        (0.050, 2550e-6, 502e-6, (1590e-6, 3543e-6)),
    ],
)
def test_a_model_that_is_only_curvature(x1: float, mean: float, u: float, interval: tuple[float, float]) -> None:
    # 9.4.2: Y = X1^2 + X2^2, u 0.005 each; where both are 0 the first order says 0 +- 0.
    one = UncertainValue.of(x1, ErrorSource("x1", "x1", 0.005))
    two = UncertainValue.of(0.0, ErrorSource("x2", "x2", 0.005))
    draws, means, rows = drawn([one, two])

    def sample(rng: Generator, count: int) -> Array:
        a, b = (Samples(row) for row in rows @ draws.draw(rng, count) + means[:, None])
        return (a * a + b * b).values

    found = adaptive(sample, seed=5, shortest=True)
    assert found.mean == pytest.approx(mean, abs=2e-6) and found.u == pytest.approx(u, abs=2e-6)
    assert found.interval == pytest.approx(interval, abs=15e-6)
    first = one * one + two * two
    assert first.u == pytest.approx(2 * x1 * 0.005)


def test_a_gauge_block() -> None:
    # 9.5, with the inputs of GUM H.1 and the distributions of the supplement, in nm: u 36, [745, 932] at 99 %.
    def trapezoid(rng: Generator, low: float, high: float, d: float, count: int) -> Array:
        """Evenly spread within limits that are themselves uncertain by +-d (6.4.3)."""
        edge = low - d + 2.0 * d * rng.random(count)
        return edge + (low + high - 2.0 * edge) * rng.random(count)

    def sample(rng: Generator, count: int) -> Array:
        standard = 50_000_623.0 + 25.0 * rng.standard_t(18, count)
        difference = 215.0 + 6.0 * rng.standard_t(24, count)
        random, systematic = 4.0 * rng.standard_t(5, count), 7.0 * rng.standard_t(8, count)
        alpha = 11.5e-6 - 2e-6 + 4e-6 * rng.random(count)
        mean = -0.1 + 0.2 * rng.standard_normal(count)
        cycle = 0.5 * np.sin(2.0 * math.pi * rng.random(count))
        unlike = trapezoid(rng, -1e-6, 1e-6, 0.1e-6, count)
        apart = trapezoid(rng, -0.05, 0.05, 0.025, count)
        length: Array = (
            (standard * (1.0 + alpha * (mean + cycle)) + difference + random + systematic)
            / (1.0 + (alpha + unlike) * (mean + cycle + apart))
        ) - 50_000_000.0
        return length

    found = adaptive(sample, seed=6, level=0.99, digits=2)
    assert found.mean == pytest.approx(838.0, abs=1.0) and found.u == pytest.approx(36.0, abs=1.0)
    assert found.interval == pytest.approx((745.0, 932.0), abs=1.5)


def test_the_numerical_tolerance() -> None:
    # 7.9.2, example 1: u = 0.00035 g is 35e-5 to two digits, tolerance 0.5e-5; 4e-4 to one digit, 0.5e-4.
    assert tolerance(0.00035, 2) == pytest.approx(0.5e-5)
    assert tolerance(0.00035, 1) == pytest.approx(0.5e-4)
    assert tolerance(0.0996, 2) == pytest.approx(0.5e-2) and tolerance(0.0, 2) == 0.0
    assert stands([(1.0, 2.0), (1.0, 2.0)], 0.0)
    assert not stands([(1.0, 2.0), (1.0, 2.2)], 0.1)


def test_it_is_given_up_where_it_will_not_stand() -> None:
    found = adaptive(lambda rng, n: rng.standard_cauchy(n), seed=7, most=30_000)
    assert not found.settled and found.draws == 30_000


def test_intervals_of_draws() -> None:
    values = np.random.default_rng(8).exponential(1.0, 200_000)
    # An exponential distribution: the shortest interval is 0 to ln 20; tails of 2.5 % are at known quantiles.
    assert shortest_interval(values, 0.95) == pytest.approx((0.0, math.log(20)), abs=0.05)
    assert symmetric_interval(values, 0.95) == pytest.approx((-math.log(0.975), math.log(40)), abs=0.05)


def test_a_scatter_of_few_readings_is_student_and_errors_of_one_scatter_share_it() -> None:
    # Table G.2 of the GUM: t95 with 5 degrees of freedom is 2.57. Two errors of one pool are both wide in one draw.
    values = [UncertainValue.of(0.0, ErrorSource(key, "x", 1.0, 5.0, pool="p")) for key in "ab"]
    draws, _, rows = drawn(values)
    a, b = rows @ draws.draw(np.random.default_rng(9), 400_000)
    assert np.quantile(a, 0.975) == pytest.approx(2.57, abs=0.03)
    assert np.corrcoef(a, b)[0, 1] == pytest.approx(0.0, abs=0.03)
    assert np.corrcoef(abs(a), abs(b))[0, 1] > 0.1


# JCGM 106:2012, clause 7, examples from memory, and its table 1.
@pytest.mark.parametrize(
    ("value", "u", "limits", "chance"),
    [
        (-5.47, 0.05, ToleranceLimits(None, -5.40), 0.92),
        (509.7, 8.6, ToleranceLimits(490.0, None), 0.99),
        (13.6, 1.8, ToleranceLimits(12.5, 16.3), 0.66),
    ],
)
def test_conformance_probabilities(value: float, u: float, limits: ToleranceLimits, chance: float) -> None:
    x = UncertainValue.of(value, ErrorSource("y", "y", u))
    assert conformance_probability(x, limits) == pytest.approx(chance, abs=0.005)
    draws, means, rows = drawn([x])
    y = (rows @ draws.draw(np.random.default_rng(10), 200_000) + means[:, None])[0]
    low, high = limits.low, limits.high
    held = ((y >= low) if low is not None else True) & ((y <= high) if high is not None else True)
    assert np.mean(held) == pytest.approx(chance, abs=0.008)


@pytest.mark.parametrize(("chance", "z"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)])
def test_one_sided_table(chance: float, z: float) -> None:
    # JCGM 106:2012, table 1, from memory; the quantiles also by the standard library.
    assert NormalDist().inv_cdf(chance) == pytest.approx(z, abs=0.006)
    assert conformance_probability(
        UncertainValue.of(0.0, ErrorSource("y", "y", 1.0)), ToleranceLimits(None, z)
    ) == pytest.approx(chance, abs=0.002)
