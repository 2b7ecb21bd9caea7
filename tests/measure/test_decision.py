"""Conformance: the published examples, and the three decisions."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.measure.decision import LEVEL, SAID, Decision, Limits, chance_in, decide, judge
from trued.measure.estimate import Source, Uncertain, chance_between


def normal(value: float, u: float, dof: float = float("inf")) -> Uncertain:
    return Uncertain.of(value, Source("a", "a", u, dof))


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
    """One-sided conformance probability against the distance in u (from memory; recomputed)."""
    assert chance_in(normal(-z, 1.0), Limits(None, 0.0)) == pytest.approx(p, abs=0.002)


def test_specific_risk() -> None:
    """N(10, 0.4) and N(10.5, 0.4) against 9 to 11: 0.01242 and 0.10574 outside (seen in a public test of another)."""
    limits = Limits(9.0, 11.0)
    assert 1 - chance_in(normal(10.0, 0.4), limits) == pytest.approx(0.01242, abs=5e-6)
    assert 1 - chance_in(normal(10.5, 0.4), limits) == pytest.approx(0.10574, abs=5e-6)


def test_guard_band_of_the_95_percent_rule() -> None:
    """ISO 14253-1:2017: with u small against the tolerance, acceptance ends 1.645 u inside the limit (from memory)."""
    limits = Limits.within(1.0)
    assert decide(normal(1.0 - 1.65 * 0.01, 0.01), limits) is Decision.PROVEN_IN
    assert decide(normal(1.0 - 1.64 * 0.01, 0.01), limits) is Decision.NOT_PROVEN
    assert decide(normal(1.0 + 1.64 * 0.01, 0.01), limits) is Decision.NOT_PROVEN
    assert decide(normal(1.0 + 1.65 * 0.01, 0.01), limits) is Decision.PROVEN_OUT


def test_few_degrees_of_freedom_prove_less() -> None:
    assert decide(normal(0.8, 0.1), Limits.within(1.0)) is Decision.PROVEN_IN
    assert decide(normal(0.8, 0.1, 1), Limits.within(1.0)) is Decision.NOT_PROVEN


def test_an_assumed_scatter_proves_out_but_never_in() -> None:
    limits = Limits(0.0, None)
    assert decide(normal(5.0, 1.0), limits, may_prove_in=False) is Decision.NOT_PROVEN
    assert decide(normal(-5.0, 1.0), limits, may_prove_in=False) is Decision.PROVEN_OUT
    assert judge(0.94) is Decision.NOT_PROVEN and judge(0.95) is Decision.PROVEN_IN
    assert judge(1.0 - LEVEL) is Decision.PROVEN_OUT and judge(0.97, level=0.99) is Decision.NOT_PROVEN


def test_every_decision_has_its_words() -> None:
    assert set(SAID) == set(Decision) and len(set(SAID.values())) == 3
    assert SAID[Decision.PROVEN_IN].startswith("true") and SAID[Decision.PROVEN_OUT].startswith("out")


@pytest.mark.parametrize(("low", "high"), [(None, None), (1.0, 1.0), (2.0, 1.0)])
def test_limits_cannot_be_built_wrong(low: float | None, high: float | None) -> None:
    with pytest.raises(ValueError, match="limit"):
        Limits(low, high)


@given(x=st.floats(-3, 3), low=st.floats(-2, 0), wide=st.floats(0.1, 3))
def test_a_known_value_is_in_or_out(x: float, low: float, wide: float) -> None:
    limits = Limits(low, low + wide)
    assert limits.hold(x) == (low <= x <= low + wide)
    assert Limits(None, 0.0).hold(-9.0) and Limits(0.0, None).hold(9.0) and not Limits(0.0, None).hold(-1.0)
