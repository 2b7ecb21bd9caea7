"""The minutes to be expected, against drawn runs; which way is taken; where a feature is best."""

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.stats import norm  # type: ignore[import-untyped]
from scipy.stats import t as student
from tests.standing.rows import five_cut, happened, hour, moved

from trued.advice.preposterior import Ahead, State, _quantile, target_of
from trued.advice.statuses import standings
from trued.measure.decision import Conformity, ToleranceLimits
from trued.standing.feature_status import ActionKind
from trued.standing.filtered.kalman import GaussianState
from trued.standing.history.history import History

AHEAD = Ahead(ToleranceLimits.within(2e-4), 0.0, 15.0, 5.0, 3e-5, 0.0)
Array = NDArray[np.float64]


def state(
    x: float, sd: float, s: float = 5e-5, dof: float = math.inf, *, gg: float = 0.01, shown: bool = True
) -> State:
    return State(GaussianState(x, 1.0, sd * sd, 0.0, gg, sd * sd), s, dof, 0.0, shown)


def test_target_is_the_middle_or_what_is_nearest_to_nought() -> None:
    assert target_of(None) == 0.0 and target_of(ToleranceLimits(-2.0, 4.0)) == 1.0
    assert target_of(ToleranceLimits(3.0, None)) == 3.0 and target_of(ToleranceLimits(-3.0, None)) == 0.0
    assert target_of(ToleranceLimits(None, -2.0)) == -2.0 and target_of(ToleranceLimits(None, 2.0)) == 0.0


@pytest.mark.parametrize("x", [0.0, 0.8e-4, 1.5e-4, 3e-4])
def test_a_run_more_proves_as_often_as_foreseen(x: float) -> None:
    """Scatter known for sure: the mean after the run, drawn 100 000 times, is proven in by a plain normal chance."""
    rng = np.random.default_rng(3)
    r, before = 5e-5**2, 6e-5**2
    z = x + rng.normal(0.0, math.sqrt(before + r), 100_000)
    mean, left = x + before / (before + r) * (z - x), math.sqrt(before * r / (before + r))
    proven = np.abs(mean) <= 2e-4 - 1.6449 * left
    assert AHEAD._spans(state(x, 6e-5))[1] == pytest.approx(float(proven.mean()), abs=0.01)


@pytest.mark.parametrize(("dof", "off"), [(3.0, 4e-3), (4.0, 2e-3), (10.0, 1e-4), (math.inf, 1e-6)])
def test_the_quick_quantile(dof: float, off: float) -> None:
    """Against a reference library."""
    wanted = student.ppf(0.95, dof) if math.isfinite(dof) else norm.ppf(0.95)
    assert _quantile(dof) == pytest.approx(float(wanted), rel=off)


def _followed(x: float, sd: float, s: float, *, turn_first: bool, draws: int = 40_000) -> float:
    """Minutes until it is proven in, drawn: scatter and response known, so that what is believed stays Gaussian. After
    the first step whatever lies beyond the tolerance, or is known to lie on one side, is turned, the rest run again."""
    rng = np.random.default_rng(5)
    true: Array = rng.normal(x, sd, draws)
    mean, variance = np.full(draws, x), np.full(draws, sd * sd)
    minutes, open_ = np.zeros(draws), np.ones(draws, dtype=bool)
    turn = np.full(draws, turn_first)
    for _ in range(40):
        now = open_ & turn
        true[now] -= mean[now]
        true[now] += rng.normal(0.0, 3e-5, int(now.sum()))
        mean[now], variance[now] = 0.0, variance[now] + 3e-5**2
        minutes += 5.0 * now + 15.0 * open_
        z = true + rng.normal(0.0, s, draws)
        gain = variance / (variance + s * s)
        mean, variance = mean + gain * (z - mean), gain * s * s
        open_ &= np.abs(mean) > 2e-4 - 1.6449 * np.sqrt(variance)
        turn = np.abs(mean) > np.maximum(1.2e-4, 1.6449 * np.sqrt(variance))
    assert not open_.any()
    return float(minutes.mean())


@pytest.mark.parametrize(
    ("x", "sd", "s"), [(0.6e-4, 8e-5, 8e-5), (1.3e-4, 5e-5, 5e-5), (1.7e-4, 3e-5, 5e-5), (4e-4, 5e-5, 5e-5)]
)
def test_minutes_are_those_of_drawn_sessions(x: float, sd: float, s: float) -> None:
    """Within a fifth: whoever draws goes on by a plain rule after the first step, foresight by the better of two ways.
    And the way that comes out quicker by more than that is the one that is taken."""
    told = AHEAD.ways(state(x, sd, s, gg=0.0))
    again, turned = (_followed(x, sd, s, turn_first=first) for first in (False, True))
    assert told.again == pytest.approx(again, rel=0.2)
    if math.isfinite(told.turned):
        assert told.turned == pytest.approx(turned, rel=0.2)
        assert abs(turned - again) < 0.2 * turned or (told.turned < told.again) is (turned < again)


def test_a_shop_that_has_shown_no_repeat_needs_a_run_more() -> None:
    shown, first = (AHEAD.ways(state(1.8e-4, 5e-5, shown=seen)) for seen in (True, False))
    assert shown.turned + 10.0 < first.turned
    assert AHEAD.ways(state(0.2e-4, 5e-5, shown=False)).again == pytest.approx(15.0, abs=0.5)


def test_the_way_must_be_known_before_it_is_turned() -> None:
    assert math.isinf(AHEAD.ways(state(0.7e-4, 5e-5)).turned) and math.isfinite(AHEAD.ways(state(0.9e-4, 5e-5)).turned)


def test_a_move_is_made_in_steps_of_the_hand() -> None:
    coarse = Ahead(ToleranceLimits.within(2e-4), 0.0, 15.0, 5.0, 3e-5, 1e-4)
    assert coarse.ways(state(2.6e-4, 5e-5)).move == pytest.approx(3e-4)
    assert math.isinf(coarse.ways(state(0.4e-4, 1e-5)).turned)


def test_a_dear_move_is_put_off() -> None:
    """What can be turned in no time is turned; where a move takes two hours, a run is made first."""
    near = state(1.5e-4, 6e-5)
    cheap, dear = (Ahead(ToleranceLimits.within(2e-4), 0.0, 15.0, m, 3e-5, 0.0).ways(near) for m in (0.0, 120.0))
    assert cheap.turned < cheap.again and dear.again < dear.turned


def test_what_all_runs_share_no_run_betters() -> None:
    shared = Ahead(ToleranceLimits.within(2e-4), 0.0, 15.0, 5.0, 3e-5, 0.0, common=1.5e-4**2)
    assert not shared.proves(state(0.0, 1e-6)) and AHEAD.proves(state(0.0, 1e-6))
    assert shared.ways(state(0.0, 5e-5)).again > 60.0


def test_after_an_event_that_was_told_nothing_is_repeated_for_surprise() -> None:
    """The screw was touched, and it is found far off: that is what was to be expected, and no run more is asked for."""
    pair = (five_cut(0, 0.1e-4), five_cut(1, 0.2e-4))
    for found in (12e-4, 33e-4, -60e-4):
        runs = (*pair, five_cut(3, found))
        (standing,) = standings(History(runs, (), (happened(2, "screw-touched", "sled"),)), hour(3))
        assert standing.decision is Conformity.PROVEN_OUT and standing.next is not None
        assert standing.next.do is ActionKind.MOVE


def test_never_long_without_a_move() -> None:
    """Runs that stay at two thirds of the tolerance in a loose shop: within six of them it is proven, or turned."""
    for at in (1.0e-4, 1.3e-4, 1.6e-4):
        runs = tuple(five_cut(i, at + 0.7e-4 * (-1) ** i, s=9e-5) for i in range(6))
        steps = [standings(History(runs[: i + 1]), hour(i))[0].next for i in range(6)]
        assert any(step is not None and step.do is not ActionKind.MEASURE for step in steps)


def test_moves_that_go_twice_too_far_are_told_as_such() -> None:
    runs = (five_cut(0, 16e-4), five_cut(2, -19e-4), five_cut(4, 15e-4))
    (standing,) = standings(History(runs, (moved(1, 16e-4), moved(3, 16e-4, "close"))), hour(4))
    assert standing.blunder == "over-correction" and standing.next is not None
    assert "pivot-to-screw distance" in standing.next.why


def test_a_lock_that_slipped_is_told_with_the_next_move() -> None:
    runs = (five_cut(0, 20e-4), five_cut(2, 10e-4), five_cut(4, 4e-4), five_cut(6, 5e-4), five_cut(7, 5e-4))
    moves = (moved(1, 10e-4), moved(3, 6e-4), moved(5, 1e-4))
    (standing,) = standings(History(runs, moves), hour(7))
    assert standing.decision is Conformity.PROVEN_OUT and standing.next is not None
    (slipped,) = standings(History((*runs[:3], five_cut(6, 9e-4)), moves), hour(6))
    assert slipped.blunder == "lock-slips"


def test_closing_is_finished_by_opening() -> None:
    (standing,) = standings(History((five_cut(0, -9e-4),)), hour(0))
    assert standing.next is not None and standing.next.direction == "close"
    assert standing.next.approach == "open" and "Go past, then come back" in standing.next.text
