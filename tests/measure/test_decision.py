"""Conformance: the published examples, and the three decisions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from trued.measure.decision import (
    LEVEL,
    SAID,
    Chances,
    Conformity,
    Side,
    ToleranceLimits,
    conformance_probability,
    decide,
    judge,
)
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, Shape, UncertainValue, chance_between
from trued.measure.sd_interval import spread_chances


def normal(value: float, u: float, dof: float = float("inf")) -> UncertainValue:
    return UncertainValue.of(value, ErrorSource("a", "a", u, dof))


@pytest.mark.parametrize(
    ("value", "u", "low", "high", "printed"),
    [
        (-5.47, 0.05, None, -5.40, 0.92),  # breakdown voltage of a diode
        (509.7, 8.6, 490.0, None, 0.99),  # bursting strength of a container
        (13.6, 1.8, 12.5, 16.3, 0.66),  # viscosity of an oil
    ],
)
def test_jcgm106_clause_7(value: float, u: float, low: float | None, high: float | None, printed: float) -> None:
    """JCGM 106:2012, clause 7: conformance probabilities 0.92, 0.99, 0.66 (from memory; recomputed)."""
    assert chance_between(normal(value, u), low, high) == pytest.approx(printed, abs=0.0051)


@pytest.mark.parametrize(("p", "z"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)])
def test_jcgm106_table_1(p: float, z: float) -> None:
    """JCGM 106:2012, table 1: one-sided conformance probability against the distance in u (from memory; recomputed)."""
    assert conformance_probability(normal(-z, 1.0), ToleranceLimits(None, 0.0)) == pytest.approx(p, abs=0.002)


def test_specific_risk() -> None:
    """The share of N(x, 0.4) outside 9 to 11, both tails, by the normal distribution of a reference library; by hand
    from 1 - Phi(2.5) = 0.0062097, 1 - Phi(1.25) = 0.1056498 and 1 - Phi(3.75) = 0.0000884: 0.012419 and 0.105738."""
    limits = ToleranceLimits(9.0, 11.0)
    for x, by_hand in ((10.0, 0.012419), (10.5, 0.105738)):
        outside = 1 - conformance_probability(normal(x, 0.4), limits)
        assert outside == pytest.approx(stats.norm.cdf(9.0, x, 0.4) + stats.norm.sf(11.0, x, 0.4), abs=1e-12)
        assert outside == pytest.approx(by_hand, abs=1e-6)


def test_guard_band_of_the_95_percent_rule() -> None:
    """ISO 14253-1:2017: with u small against the tolerance, acceptance ends 1.645 u inside the limit (from memory)."""
    limits = ToleranceLimits.within(1.0)
    assert decide(normal(1.0 - 1.65 * 0.01, 0.01), limits) is Conformity.PROVEN_IN
    assert decide(normal(1.0 - 1.64 * 0.01, 0.01), limits) is Conformity.NOT_PROVEN
    assert decide(normal(1.0 + 1.64 * 0.01, 0.01), limits) is Conformity.NOT_PROVEN
    assert decide(normal(1.0 + 1.65 * 0.01, 0.01), limits) is Conformity.PROVEN_OUT


def test_few_degrees_of_freedom_prove_less() -> None:
    assert decide(normal(0.8, 0.1), ToleranceLimits.within(1.0)) is Conformity.PROVEN_IN
    assert decide(normal(0.8, 0.1, 1), ToleranceLimits.within(1.0)) is Conformity.NOT_PROVEN


def test_an_assumed_scatter_proves_out_but_never_in() -> None:
    limits = ToleranceLimits(0.0, None)
    assert decide(normal(5.0, 1.0), limits, may_prove_in=False) is Conformity.NOT_PROVEN
    assert decide(normal(-5.0, 1.0), limits, may_prove_in=False) is Conformity.PROVEN_OUT
    assert judge(Chances(0.03, 0.94, 0.03)) is Conformity.NOT_PROVEN
    assert judge(Chances(0.05, 0.95, 0.0)) is Conformity.PROVEN_IN
    assert judge(Chances(LEVEL, 0.05, 0.0)) is Conformity.PROVEN_OUT
    assert judge(Chances(0.0, 0.97, 0.03), level=0.99) is Conformity.NOT_PROVEN


def test_an_estimate_too_vague_for_its_tolerance_is_not_known_and_never_out() -> None:
    """0 with a standard uncertainty of 0.6 in against +-0.005 in: 0.7 % inside, yet 49.7 % beyond either side."""
    vague, limits = normal(0.0, 0.6), ToleranceLimits.within(0.005)
    assert conformance_probability(vague, limits) < 0.01
    assert decide(vague, limits) is Conformity.NOT_PROVEN and Chances.of(vague, limits).beyond() is None
    assert decide(normal(0.6, 0.6), limits) is Conformity.NOT_PROVEN  # 84 % above: the side is not known yet
    assert decide(normal(1.1, 0.6), limits) is Conformity.PROVEN_OUT


def test_what_is_out_is_out_on_a_named_side() -> None:
    limits = ToleranceLimits(-1.0, 2.0)
    assert Chances.of(normal(2.5, 0.1), limits).beyond() is Side.ABOVE
    assert Chances.of(normal(-1.5, 0.1), limits).beyond() is Side.BELOW
    assert Chances.of(normal(0.5, 0.1), limits).beyond() is None
    assert Chances.of(normal(9.0, 0.1), ToleranceLimits(0.0, None)).beyond() is None


def test_chances_of_several_cases_add_up_by_their_chance() -> None:
    mixed = Chances.mixed([(0.25, Chances(1.0, 0.0, 0.0)), (0.75, Chances(0.0, 0.2, 0.8))])
    assert (mixed.below, mixed.inside, mixed.above) == pytest.approx((0.25, 0.15, 0.6))
    assert judge(mixed) is Conformity.NOT_PROVEN  # out either way, and the way is not known


LIMITS = st.one_of(
    st.tuples(st.floats(-3, -0.01), st.floats(0.01, 3)),
    st.tuples(st.none(), st.floats(-3, 3)),
    st.tuples(st.floats(-3, 3), st.none()),
).map(lambda ends: ToleranceLimits(*ends))
SHAPES = st.one_of(st.floats(0.6, 200.0), st.just(float("inf")))


def estimate(x: float, u: float, dof: float, even: float) -> UncertainValue:
    """Normal or Student's t, with a part of its u evenly spread as an instrument's limit is."""
    sources = [ErrorSource("t", "t", u * math.sqrt(1.0 - even), dof)]
    return UncertainValue.of(x, *sources, ErrorSource("e", "e", u * math.sqrt(even), shape=Shape.RECTANGULAR))


@given(st.floats(-6, 6), st.floats(1e-3, 5), SHAPES, st.floats(0, 1), LIMITS)
def test_chances_are_of_three_places_and_only_one_is_decided(
    x: float, u: float, dof: float, even: float, limits: ToleranceLimits
) -> None:
    chances = Chances.of(estimate(x, u, dof, even), limits)
    assert chances.below + chances.inside + chances.above == pytest.approx(1.0, abs=1e-9)
    assert not (chances.beyond() is not None and chances.inside >= LEVEL)
    assert (judge(chances) is Conformity.PROVEN_OUT) == (max(chances.below, chances.above) >= LEVEL)


@given(st.floats(-6, 6), st.floats(1e-3, 5), st.floats(1.0, 50.0), SHAPES, st.floats(0, 1), LIMITS)
def test_knowing_less_never_proves(
    x: float, u: float, wider: float, dof: float, even: float, limits: ToleranceLimits
) -> None:
    if decide(estimate(x, u, dof, even), limits) is Conformity.NOT_PROVEN:
        assert decide(estimate(x, u * wider, dof, even), limits) is Conformity.NOT_PROVEN


@given(st.floats(-6, 6), st.floats(1e-3, 5), st.floats(0.0, 10.0), SHAPES, st.floats(0, 1), LIMITS)
def test_farther_out_is_still_out(
    x: float, u: float, more: float, dof: float, even: float, limits: ToleranceLimits
) -> None:
    side = Chances.of(estimate(x, u, dof, even), limits).beyond()
    if side is not None:
        farther = x + more if side is Side.ABOVE else x - more
        assert Chances.of(estimate(farther, u, dof, even), limits).beyond() is side


@given(st.floats(0.01, 5), st.floats(0.0, 5), st.floats(0.6, 200), st.floats(0.01, 2), st.floats(0.01, 3))
def test_the_same_of_a_scatter(s: float, more: float, dof: float, low: float, wide: float) -> None:
    """Chi-square instead of Student's t: a larger scatter that was out above its limit is out above it too."""
    for limits in (ToleranceLimits(None, low + wide), ToleranceLimits(low, low + wide)):
        chances = spread_chances(EstimatedSd(s, dof), limits)
        assert chances.below + chances.inside + chances.above == pytest.approx(1.0, abs=1e-9)
        if chances.beyond() is Side.ABOVE:
            assert spread_chances(EstimatedSd(s + more, dof), limits).beyond() is Side.ABOVE


def test_every_decision_has_its_words() -> None:
    assert set(SAID) == set(Conformity) and len(set(SAID.values())) == 3
    assert SAID[Conformity.PROVEN_IN].startswith("in") and SAID[Conformity.PROVEN_OUT].startswith("out")


@pytest.mark.parametrize(("low", "high"), [(None, None), (1.0, 1.0), (2.0, 1.0)])
def test_limits_cannot_be_built_wrong(low: float | None, high: float | None) -> None:
    with pytest.raises(ValueError, match="limit"):
        ToleranceLimits(low, high)


@given(x=st.floats(-3, 3), low=st.floats(-2, 0), wide=st.floats(0.1, 3))
def test_a_known_value_is_in_or_out(x: float, low: float, wide: float) -> None:
    limits = ToleranceLimits(low, low + wide)
    assert limits.hold(x) == (low <= x <= low + wide)
    assert (
        ToleranceLimits(None, 0.0).hold(-9.0)
        and ToleranceLimits(0.0, None).hold(9.0)
        and not ToleranceLimits(0.0, None).hold(-1.0)
    )
