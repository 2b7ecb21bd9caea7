"""The chance that one more run proves it in, against drawn runs; where a feature is best; half of its limits."""

import math

import numpy as np
import pytest
from tests.shop.rows import FENCE, five_cut, hour, moved

from trued.measure.decision import Decision, Limits
from trued.shop.believed import Believed
from trued.shop.filter import Belief
from trued.shop.foresee import _proven, half_of, proven_after, target_of
from trued.shop.history import History
from trued.shop.known import known_of
from trued.shop.standings import standings
from trued.shop.track import Track


def test_target_is_the_middle_or_what_is_nearest_to_nought() -> None:
    assert target_of(None) == 0.0 and target_of(Limits(-2.0, 4.0)) == 1.0
    assert target_of(Limits(3.0, None)) == 3.0 and target_of(Limits(-3.0, None)) == 0.0
    assert target_of(Limits(None, -2.0)) == -2.0 and target_of(Limits(None, 2.0)) == 0.0


def test_half_of_the_limits() -> None:
    assert half_of(Limits(0.0, 4.0)) == Limits(1.0, 3.0)
    assert half_of(Limits(None, 4.0)) is None and half_of(Limits(1.0, None)) is None


@pytest.mark.parametrize("x", [0.0, 0.8e-4, 1.5e-4, 3e-4])
def test_a_run_more_proves_as_often_as_foreseen(x: float) -> None:
    """Scatter known for sure: the mean after the run, drawn 100 000 times, is proven in by a plain normal chance."""
    rng = np.random.default_rng(3)
    belief, r, limits = Belief(x, 1.0, 4e-9, 0.0, 0.0), 3e-9, Limits.within(2e-4)
    z = x + rng.normal(0.0, math.sqrt(4e-9 + r), 100_000)
    mean, left = x + 4.0 / 7.0 * (z - x), math.sqrt(4e-9 * r / 7e-9)
    proven = np.abs(mean) <= 2e-4 - 1.6449 * left
    assert _proven(belief, r, limits, math.inf) == pytest.approx(float(proven.mean()), abs=0.01)


def test_nothing_to_learn_is_as_it_is() -> None:
    assert _proven(Belief(1.0, 1.0, 0.0, 0.0, 0.0), 0.0, Limits(0.0, 2.0), 5.0) == 1.0
    assert _proven(Belief(1.0, 1.0, 4.0, 0.0, 0.0), 4.0, Limits(0.9, 1.1), 5.0) == 0.0


def test_a_move_betters_what_is_out() -> None:
    known = known_of(History((five_cut(0, 3e-4), five_cut(1, 3e-4))))
    track = known.features[FENCE]
    assert isinstance(track, Track)
    believed = Believed.at(track, hour(1), known.repeats["five-cut", "sled"].scatter)
    limits = Limits.within(2e-4)
    assert proven_after(believed, limits) < 0.1 < proven_after(believed, limits, 2.75e-4, 3e-5)


def test_moves_that_go_twice_too_far_are_told_as_such() -> None:
    runs = (five_cut(0, 16e-4), five_cut(2, -19e-4), five_cut(4, 15e-4))
    (standing,) = standings(History(runs, (moved(1, 16e-4), moved(3, 16e-4, "close"))), hour(4))
    assert standing.blunder == "over-correction" and standing.next is not None
    assert "distance to the screw" in standing.next.why


def test_a_lock_that_slipped_is_told_with_the_next_move() -> None:
    runs = (five_cut(0, 20e-4), five_cut(2, 10e-4), five_cut(4, 4e-4), five_cut(6, 5e-4), five_cut(7, 5e-4))
    moves = (moved(1, 10e-4), moved(3, 6e-4), moved(5, 1e-4))
    (standing,) = standings(History(runs, moves), hour(7))
    assert standing.decision is Decision.PROVEN_OUT and standing.next is not None
    (slipped,) = standings(History((*runs[:3], five_cut(6, 9e-4)), moves), hour(6))
    assert slipped.blunder == "lock-slips"


def test_closing_is_finished_by_opening() -> None:
    (standing,) = standings(History((five_cut(0, -9e-4),)), hour(0))
    assert standing.next is not None and standing.next.direction == "close"
    assert standing.next.approach == "open" and "Go past the place" in standing.next.text
