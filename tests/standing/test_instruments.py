"""What the check of the caliper has found becomes the scatter of that caliper."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from tests.checks.ran import taken

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.measure.instrument import DEFAULTS, Instrument
from trued.measure.sd_interval import sd_uncertainty
from trued.standing.cuts.instruments import with_own_repeat
from trued.standing.feature_status import FeatureStatus

NOW = datetime(2026, 3, 1, tzinfo=UTC)
OWN = Instrument("caliper-1", "caliper", 0.01, 0.02, EstimatedSd(0.025, 10), 200.0, digital=True)
RULE = DEFAULTS["rule"]


def standing(feature: str, x: UncertainValue, stale: tuple[str, ...] = ()) -> FeatureStatus:
    return FeatureStatus(feature, "mm", x, None, None, None, NOW, 1, stale)


def repeat(s: float, dof: float, thing: str = "caliper-1", stale: tuple[str, ...] = ()) -> FeatureStatus:
    return standing(f"{thing}.caliper-repeat", sd_uncertainty("edge", "few readings", EstimatedSd(s, dof)), stale)


def test_what_was_found_takes_the_place_of_what_was_assumed() -> None:
    caliper, rule = with_own_repeat(
        (OWN, RULE), [repeat(0.012, 4), standing("caliper-1.caliper-zero", UncertainValue(0.0))]
    )
    assert caliper == replace(OWN, repeat=caliper.repeat) and rule == RULE
    assert (caliper.repeat.s, caliper.repeat.seen) == (0.012, 4) and caliper.repeat.dof == pytest.approx(4.0)


def test_more_runs_make_it_better_known() -> None:
    """The pooled standing of two runs of four degrees of freedom has u smaller by the root of two: eight of them."""
    one = repeat(0.012, 4).x
    both = standing("caliper-1.caliper-repeat", UncertainValue(0.012, {s: c / 2**0.5 for s, c in one.parts.items()}))
    assert with_own_repeat([OWN], [both])[0].repeat.dof == pytest.approx(8.0)


@pytest.mark.parametrize(
    "given",
    [
        repeat(0.012, 4, stale=("the caliper fell",)),
        repeat(0.012, 2),
        repeat(0.012, 4, thing="caliper-2"),
        standing("caliper-1.caliper-repeat", UncertainValue(0.012)),
    ],
)
def test_nothing_changes_for_what_is_stale_little_or_another(given: FeatureStatus) -> None:
    assert with_own_repeat([OWN], [given]) == (OWN,)


def test_a_shop_that_described_no_caliper_gets_the_assumed_one_with_its_own_repeat() -> None:
    (caliper,) = with_own_repeat([], [repeat(0.012, 5, thing="caliper")])
    assert caliper.kind == "caliper" and caliper.repeat.dof == pytest.approx(5.0)
    assert caliper.range_mm is None  # it must not refuse what the assumed one reads
    assert with_own_repeat([OWN], [repeat(0.012, 5, thing="caliper")]) == (OWN,)


def test_from_the_check_itself() -> None:
    """Five readings of an edge: their standard deviation with four degrees of freedom."""
    check = taken("caliper", "closed=0 closed=0 closed=0 edge=.743 edge=.742 edge=.744 edge=.743 edge=.742")
    found = next(f for f in check.check.evaluate(check) if f.feature == "caliper-repeat")
    (caliper,) = with_own_repeat([OWN], [standing("caliper-1.caliper-repeat", found.value)])
    assert found.spread is not None
    assert (caliper.repeat.s, caliper.repeat.dof) == pytest.approx((found.spread.s, 4.0))
