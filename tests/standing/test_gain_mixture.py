"""What a move does here: the mixture against a grid of Bayes' rule, and the blunders that it names."""

import math

import numpy as np
import pytest
from scipy.stats import norm

from trued.standing.filtered.gain_mixture import HYPOTHESES, ORDINARY, SLIPS_IN, GainHypothesis, GainMixture

R = (6e-5) ** 2
SETTLING = 3e-5


def _by_grid(first: float, u: float, second: float) -> tuple[list[float], float]:
    """Chances of the hypotheses and the mean of x after two findings and a move, by brute force over g."""
    chances, means = [], []
    for hypothesis in HYPOTHESES:
        g = np.linspace(hypothesis.g - 6 * hypothesis.u, hypothesis.g + 6 * hypothesis.u, 4001)
        prior = np.exp(-0.5 * ((g - hypothesis.g) / hypothesis.u) ** 2) / (hypothesis.u * math.sqrt(2 * math.pi))
        before = first - g * u
        spread = R + SETTLING**2
        s = spread + R
        likelihood = np.exp(-0.5 * (second - before) ** 2 / s) / math.sqrt(2 * math.pi * s)
        weight = prior * likelihood
        after = before + spread / s * (second - before)
        step = g[1] - g[0]
        chances.append(hypothesis.chance * weight.sum() * step)
        means.append(hypothesis.chance * (weight * after).sum() * step)
    total = sum(chances)
    return [c / total for c in chances], sum(means) / total


@pytest.mark.parametrize("second", [0.5e-4, 3.0e-4, 7.6e-4, 8.2e-4, 12e-4, 16e-4])
def test_mixture_is_bayes_rule(second: float) -> None:
    first, u = 8e-4, 7.3e-4
    response = GainMixture.first(first, R, R).moved(u, SETTLING).found(second, R, R)
    chances, mean = _by_grid(first, u, second)
    assert [branch.chance for branch in response.branches] == pytest.approx(chances, abs=1e-6)
    assert response.x == pytest.approx(mean, rel=1e-5)


def test_a_reversed_screw_is_named_after_one_move() -> None:
    response = GainMixture.first(8e-4, R, R).moved(7.3e-4, SETTLING).found(15.6e-4, R, R)
    assert response.blunder == "ends-swapped-or-reversed"
    assert response.likeliest.belief.best_move < 0.0  # the other way


def test_a_screw_that_does_not_touch_is_named() -> None:
    response = GainMixture.first(8e-4, R, R).moved(7.3e-4, SETTLING).found(8.0e-4, R, R)
    assert response.likeliest.hypothesis.blunder == "screw-not-touching"
    again = response.moved(7.3e-4, SETTLING).found(8.1e-4, R, R)
    assert again.blunder == "screw-not-touching"


def test_an_ordinary_move_names_nothing() -> None:
    for second in (-2e-4, 0.0, 1e-4, 3e-4, 4.5e-4):
        assert GainMixture.first(8e-4, R, R).moved(7.3e-4, SETTLING).found(second, R, R).blunder == ""


def test_one_hypothesis_alone_is_the_plain_filter() -> None:
    alone = GainMixture.first(3e-4, R, R, (ORDINARY,)).moved(2.7e-4, SETTLING).found(0.4e-4, R, R).doubted(1e-9)
    mixed = GainMixture.first(3e-4, R, R).moved(2.7e-4, SETTLING).found(0.4e-4, R, R).doubted(1e-9)
    assert alone.likeliest.belief == mixed.branches[0].belief
    assert alone.variance == alone.likeliest.belief.xx and alone.run_variance == alone.likeliest.belief.run_xx


def test_before_a_move_the_hypotheses_do_not_matter() -> None:
    response = GainMixture.first(3e-4, R, R).found(2e-4, R, R)
    assert [b.chance for b in response.branches] == pytest.approx([h.chance for h in HYPOTHESES])
    assert response.variance == pytest.approx(R / 2.0)


def test_best_move_over_all_hypotheses() -> None:
    """At the start E[g] = 0.91 - 0.05 + 0.022 and E[g^2] = 0.96 * 1.09 + 0.03 * 0.01 + 0.01 * 4.93, by hand."""
    assert GainMixture.first(1.0, 1e-9, 0.0).best_move == pytest.approx(0.882 / (0.96 * 1.09 + 0.0003 + 0.0493))


def test_a_move_that_went_twice_as_far_is_named() -> None:
    """Full moves, twice over: each time it comes out as far on the other side."""
    response = GainMixture.first(8e-4, R, R).moved(7.3e-4, SETTLING).found(-8.8e-4, R, R)
    again = response.moved(-7.3e-4, SETTLING).found(8.0e-4, R, R)
    assert again.blunder == "over-correction" and again.likeliest.belief.g == pytest.approx(2.3, abs=0.1)


def test_a_lock_that_slipped_is_named_and_spoils_no_learning() -> None:
    """Moves arrive as told, then one ends far from its place: the response learnt before stays."""
    known = GainMixture.first(12e-4, R, R)
    for left in (8e-4, 4e-4):
        known = known.moved(4e-4, SETTLING, 10 * SETTLING).found(left, R, R)
    before = known.likeliest.belief.g
    slipped = known.moved(2e-4, SETTLING, 10 * SETTLING).found(7e-4, R, R)
    assert slipped.blunder == "lock-slips" and slipped.slipped > 0.9
    assert slipped.likeliest.belief.g == pytest.approx(before, abs=0.1)
    deaf = known.moved(2e-4, SETTLING).found(7e-4, R, R)
    assert abs(deaf.likeliest.belief.g - before) > 0.3 or deaf.likeliest.hypothesis.blunder


def test_a_possible_slip_is_weighed_as_bayes_rule_says() -> None:
    """One hypothesis, one move: posterior chance and mean by a reference library's densities."""
    slip, v = 3e-4, R + SETTLING**2
    response = GainMixture.first(5e-4, R, R, (GainHypothesis("", 1.0, 1.0, 1e-9),)).moved(5e-4, SETTLING, slip)
    after = response.found(3e-4, R, R)
    loose = SLIPS_IN * norm.pdf(3e-4, 0.0, math.sqrt(v + slip**2 + R))
    firm = (1.0 - SLIPS_IN) * norm.pdf(3e-4, 0.0, math.sqrt(v + R))
    share = loose / (loose + firm)
    assert after.slipped == pytest.approx(share, rel=1e-9)
    wide = v + slip**2
    mean = share * 3e-4 * wide / (wide + R) + (1.0 - share) * 3e-4 * v / (v + R)
    assert after.x == pytest.approx(mean, rel=1e-6)


def test_variance_holds_what_lies_between_the_hypotheses() -> None:
    """Drawn from the four hypotheses: after a move nobody has measured."""
    rng = np.random.default_rng(3)
    which = rng.choice(4, 400_000, p=[h.chance for h in HYPOTHESES])
    g = rng.normal(np.array([h.g for h in HYPOTHESES])[which], np.array([h.u for h in HYPOTHESES])[which])
    x = rng.normal(8e-4, math.sqrt(R), g.size) - g * 7e-4 + rng.normal(0.0, SETTLING, g.size)
    response = GainMixture.first(8e-4, R, R).moved(7e-4, SETTLING)
    assert response.x == pytest.approx(float(x.mean()), rel=0.02)
    assert response.variance == pytest.approx(float(x.var()), rel=0.02)
