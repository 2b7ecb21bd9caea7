"""A start of common practice, and how it gives way to what one shop shows."""

from __future__ import annotations

import math
from functools import reduce

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import t as student  # type: ignore[import-untyped]

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.repeats.repeat_runs import Innovation
from trued.standing.repeats.repeatability import Repeatability

START = EstimatedSd(5e-5, 4.0)


def after(sizes: list[float], start: EstimatedSd = START) -> Repeatability:
    """After pairs that missed by these."""
    return reduce(
        lambda known, size: known.learn(Innovation(size, 1.0, 0.0), pair=True), sizes, Repeatability.begin(start)
    )


@given(st.lists(st.floats(1e-5, 1e-3), max_size=4))
def test_few_misses_are_added_to_the_start(sizes: list[float]) -> None:
    """A scaled inverse chi-square belief (Gelman et al., Bayesian Data Analysis, 2.6) after as many as it is worth."""
    known, conjugate = after(sizes).scatter, START.learn(sizes)
    assert known.s == pytest.approx(conjugate.s) and known.dof == pytest.approx(conjugate.dof)
    assert (known.seen, known.pairs) == (len(sizes), len(sizes))


def test_many_outweigh_the_start() -> None:
    known = after([2e-4] * 16).scatter
    assert known.dof == pytest.approx(16.0 + 1.0)
    assert known.s == pytest.approx(math.sqrt((16.0 * 2e-4**2 + 1.0 * 5e-5**2) / 17.0))
    assert after([2e-4] * 400).scatter.s == pytest.approx(2e-4, rel=1e-3)


@given(st.lists(st.tuples(st.floats(0.0, 1e-3), st.floats(0.0, 1e-8)), max_size=40))
def test_what_is_known_never_grows_less(misses: list[tuple[float, float]]) -> None:
    known = Repeatability.begin(START)
    for size, other in misses:
        more = known.learn(Innovation(size, 1.0, other), pair=False)
        assert more.scatter.dof >= known.scatter.dof - 1e-9 and more.scatter.s > 0.0
        known = more


def test_a_shop_that_repeats_badly_is_told_wide_intervals() -> None:
    """4,000 shops that scatter twice as much as the start says; ten runs seen, and the interval of the eleventh.

    With the start at its full weight for ever it holds in fewer; the quantiles are a reference library's.
    """
    rng = np.random.default_rng(3)
    drawn = rng.normal(0.0, 1e-4, (4000, 11))

    def held(scatters: list[EstimatedSd]) -> float:
        inside = [
            abs(row[-1]) <= s.s * float(student.ppf(0.975, s.dof)) for row, s in zip(drawn, scatters, strict=True)
        ]
        return float(np.mean(inside))

    gives_way = held([after(row[:-1].tolist()).scatter for row in drawn])
    for_ever = held([START.learn(row[:-1].tolist()) for row in drawn])
    assert gives_way >= 0.935 > for_ever + 0.005
