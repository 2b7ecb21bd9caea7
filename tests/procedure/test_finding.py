"""What examine makes of a run: doubts withhold, refusals stop, one run never proves in."""

from dataclasses import replace

import pytest
from tests.procedure.checks import GAP, PLAIN

from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.sd_interval import sd_uncertainty
from trued.procedure import Check, FeatureResult, Finding, RunInput, examine, take
from trued.procedure.finding import averaged, pooled

SIDE = {"side": "left"}


def run(
    typed: str, check: Check = GAP, scatter: EstimatedSd | None = None, limits: ToleranceLimits | None = None
) -> Finding:
    asked = {"gap": limits} if limits else {}
    return examine(take(check, typed.split(), SIDE, scatter=scatter, limits=asked))


def test_proven_out_gives_the_move() -> None:
    finding = run("gap=0.03")
    assert finding.estimates[0].decision == "proven-out" and finding.moves[0].amount_mm == pytest.approx(0.762)
    assert finding.seen == () and finding.estimates[0].chance_in < 0.01  # type: ignore[operator]


def test_one_run_does_not_prove_in() -> None:
    """Not proven, and said why; with an untouched pair on record the same readings prove it."""
    finding = run("gap=0")
    assert finding.estimates[0].decision == "not-proven" and not finding.moves
    assert [seen.code for seen in finding.seen] == ["one-run"]
    after = run("gap=0", scatter=EstimatedSd(0.01, 6, seen=2, pairs=1))
    assert after.estimates[0].decision == "proven-in" and not after.seen and not after.moves


def test_a_check_without_a_scatter_between_runs_may_prove_at_once() -> None:
    assert run("gap=0", PLAIN).estimates[0].decision == "proven-in"


def test_a_doubt_shows_the_value_and_withholds_the_rest() -> None:
    finding = run("gap=0.03 rocks=yes")
    assert finding.estimates[0].decision == "not-proven" and not finding.moves
    assert finding.estimates[0].value == pytest.approx(0.762) and finding.seen[0].code == "odd"


def test_a_refusal_works_nothing_out() -> None:
    finding = run("gap=0.3")
    assert finding.estimates == () and [seen.code for seen in finding.refused] == ["too-big"]


def test_an_unusual_size_is_doubted() -> None:
    finding = run("gap=0.1")
    assert [seen.code for seen in finding.seen] == ["unexpected-size"] and "gap=0.1" in finding.seen[0].text
    assert not finding.moves


def test_how_many_runs_would_decide() -> None:
    near = run("gap=0.0028")
    assert near.estimates[0].decision == "not-proven" and near.estimates[0].runs_to_decide in range(2, 11)
    assert run("gap=0.003937").estimates[0].runs_to_decide is None  # right on the limit no number helps
    assert run("gap=0.03").estimates[0].runs_to_decide is None


def test_nothing_to_decide_without_limits() -> None:
    check = replace(PLAIN, evaluate=lambda taken: (FeatureResult("gap", "mm", taken.mean("gap")),))
    found = run("gap=0.01", check).estimates[0]
    assert found.decision is None and found.chance_in is None and found.limits is None and found.runs_to_decide is None


def test_the_person_s_own_tolerance_goes_before_the_check_s() -> None:
    assert run("gap=0.01").estimates[0].decision == "proven-out"
    own = run("gap=0.01", limits=ToleranceLimits.within(1.0), scatter=EstimatedSd(0.01, 6, seen=2, pairs=1))
    assert own.estimates[0].decision == "proven-in"


def test_a_scatter_is_judged_by_chi_square() -> None:
    known = EstimatedSd(1.0, 4)

    def evaluate(_taken: RunInput) -> tuple[FeatureResult, ...]:
        return (
            FeatureResult("gap", "mm", sd_uncertainty("k", "few", known), ToleranceLimits(None, 1.5), spread=known),
        )

    found = run("gap=0", replace(PLAIN, evaluate=evaluate)).estimates[0]
    assert found.interval95 == pytest.approx((0.599, 2.874), abs=1e-3)  # factors for 5 readings, from memory
    assert found.decision == "not-proven" and found.runs_to_decide is not None


def test_more_runs_shrink_what_is_not_shared() -> None:
    sources = (
        ErrorSource("run:gap", "hands", 0.4, 4),
        ErrorSource("limit:c", "limit", 0.3),
        ErrorSource("reading:a", "r", 0.2),
    )
    x = UncertainValue.of(1.0, *sources)
    y = averaged(x, 4)
    us = {source.key: source.u for source in y.parts}
    assert us == pytest.approx({"run:gap": 0.2, "limit:c": 0.3, "reading:a": 0.1}) and y.value == 1.0
    assert next(s for s in y.parts if s.key == "run:gap").dof == 7


def test_pooling_weighs_by_what_each_knows() -> None:
    """The weighted mean of 10 (u 1) and 13 (u 2) is 10.6 (u 0.894): weights 4 to 1."""
    both = pooled(
        [UncertainValue.of(10.0, ErrorSource("a", "a", 1.0)), UncertainValue.of(13.0, ErrorSource("b", "b", 2.0))]
    )
    assert both.value == pytest.approx(10.6) and both.u == pytest.approx(0.8944, abs=1e-4)
