"""When to look again: the date is where the chance falls to 95 %; longer when nothing moved, shorter when it did."""

import math
from datetime import timedelta

import numpy as np
import pytest
from scipy.stats import norm
from tests.standing.rows import FENCE, five_cut, happened, hour, kerf, moved

from trued.advice.recheck_interval import MOST_DAYS, days_left, recheck_interval
from trued.advice.statuses import standings
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.feature_status import LookAgain
from trued.standing.history.history import History
from trued.standing.learned.learned_state import fold_history

LIMITS = ToleranceLimits.within(2e-4)


def _known(x: float, u: float) -> UncertainValue:
    return UncertainValue.of(x, ErrorSource("standing", "all", u))


def test_days_left_is_where_a_normal_chance_falls_to_95_percent() -> None:
    """With all known for sure: the chance of a reference library at that day is 0.95."""
    drift = EstimatedSd(1e-5, math.inf)
    for x in (0.0, 0.5e-4, 1.0e-4):
        days = days_left(_known(x, 3e-5), LIMITS, drift)
        sd = math.sqrt(3e-5**2 + 1e-10 * days)
        chance = norm.cdf((2e-4 - x) / sd) - norm.cdf((-2e-4 - x) / sd)
        assert chance == pytest.approx(0.95, abs=2e-3) or days == MOST_DAYS


def test_what_hardly_wanders_is_looked_at_once_a_year() -> None:
    again = recheck_interval(FENCE, _known(0.0, 1e-5), LIMITS, EstimatedSd(1e-8, 4.0), hour(0))
    assert again.date == hour(0) + timedelta(days=MOST_DAYS) and again.uses == round(MOST_DAYS / 3.0)
    assert any("Saw moved" in event for event in again.events)
    assert again.text == "Check again after 122 sessions or by Mar 2, 2027."


def test_what_does_not_wander_waits_for_an_event() -> None:
    again = recheck_interval("sled.stop-offset@0", _known(0.0, 1e-5), LIMITS, None, hour(0))
    assert again.date is None and again.uses is None and any("cursor" in event for event in again.events)
    assert LookAgain((), None, None).text.startswith("No drift expected")


def test_only_what_is_proven_in_has_a_date() -> None:
    (out,) = standings(History((five_cut(0, 9e-4),)), hour(0))
    assert out.look_again is None
    (true,) = standings(History((five_cut(0, 1e-5), five_cut(1, 1e-5))), hour(1))
    assert true.decision is Conformity.PROVEN_IN and true.look_again is not None and true.look_again.date is not None
    (no_limits,) = standings(History((kerf(0),)), hour(0))
    assert no_limits.look_again is None


def test_at_that_date_it_is_still_just_proven_and_a_month_later_no_more() -> None:
    history = History(tuple(five_cut(n, 2e-5 * (-1) ** n) for n in range(6)))
    (now,) = standings(history, hour(6))
    assert now.look_again is not None and now.look_again.date is not None
    (then,) = standings(history, now.look_again.date)
    assert then.chance_in is not None and now.chance_in is not None
    assert 0.94 < then.chance_in < now.chance_in  # the date also weighs that the wandering itself is hardly known
    (later,) = standings(history, now.look_again.date + timedelta(days=800))
    assert later.decision is Conformity.NOT_PROVEN


def _years(drift: float, seed: int) -> float:
    """Days to the next look after 12 looks, 30 days apart, at a fence that wanders by `drift` a root day."""
    rng = np.random.default_rng(seed)
    x = np.cumsum(rng.normal(0.0, drift * math.sqrt(30.0), 12))
    runs, moves = [], []
    for n, value in enumerate(x - x[-1]):
        runs += [five_cut(720.0 * n, float(value)), five_cut(720.0 * n + 1, float(value))]
    (standing,) = standings(History(tuple(runs), tuple(moves)), hour(720.0 * 11 + 2))
    known = fold_history(History(tuple(runs))).features[FENCE].drift  # type: ignore[union-attr]
    assert known is not None
    assert standing.limits is not None
    return days_left(_known(0.0, 3e-5), standing.limits, known)


def test_the_interval_grows_where_nothing_moved_and_shrinks_where_it_did() -> None:
    usual = days_left(_known(0.0, 3e-5), LIMITS, EstimatedSd(8.8e-6, 4.0))
    assert _years(0.0, 1) > usual > _years(3e-5, 1)


def test_the_doubt_of_an_event_is_learnt_from_what_it_did() -> None:
    """Carried six times and never moved: the next carry adds less doubt; moved each time: more."""
    rng = np.random.default_rng(4)
    for jump, less in ((0.0, True), (6e-4, False)):
        runs, events, x = [five_cut(0, 0.0), five_cut(1, 0.0)], [], 0.0
        for n in range(6):
            x += float(rng.normal(0.0, jump))
            events.append(happened(10.0 * n + 5, "saw-carried"))
            runs += [five_cut(10.0 * n + 6, x), five_cut(10.0 * n + 7, x)]
        known = fold_history(History(tuple(runs), (), tuple(events)))
        learnt = known.doubts["saw-carried", "fence-angle"].s
        table = happened(0, "saw-carried").stales(FENCE)
        assert table is not None and (learnt < table) is less
        assert known.doubt(happened(99, "saw-carried"), FENCE) == learnt


def test_a_move_besides_the_event_teaches_nothing_of_the_event() -> None:
    history = History((five_cut(0, 1e-4), five_cut(4, 0.0)), (moved(2, 1e-4),), (happened(1, "saw-carried"),))
    assert fold_history(history).doubts == {}
