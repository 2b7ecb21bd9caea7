"""Saw or measuring: the worked case, every verdict with the cheapest way on, and how often it is right."""

from __future__ import annotations

import math
import statistics

import numpy as np
import pytest

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.series.dominant_error import Cause, DominantError, Run, which_dominates


def ends(one: tuple[float, ...], other: tuple[float, ...], limit: float = 0.0) -> Run:
    """A run that read either end of a strip several times, by hand: difference of means, pooled standard deviation."""
    freedom = len(one) + len(other) - 2
    squares = (len(one) - 1) * statistics.variance(one) + (len(other) - 1) * statistics.variance(other)
    reading = math.sqrt(squares / freedom * (1 / len(one) + 1 / len(other)))
    return Run(statistics.fmean(other) - statistics.fmean(one), reading, limit, freedom)


def verdict(*runs: Run, usual: EstimatedSd | None = None, minutes: float = 15.0) -> DominantError:
    return which_dominates(runs, run_minutes=minutes, say=lambda x: f"{x:.4f} in", usual=usual)


WORKED = ends((1.012, 1.013, 1.011), (1.014, 1.012, 1.013))
FAR = ends((1.012, 1.013, 1.012), (1.030, 1.031, 1.030))
AGREES = ends((0.998, 0.999, 0.998), (1.0165, 1.0165, 1.017))


def test_worked_by_hand() -> None:
    """Ends 1.012 1.013 1.011 and 1.014 1.012 1.013: D 0.001, s 0.001, twice the uncertainty 0.0016: no move."""
    found = verdict(WORKED)
    assert found.difference == pytest.approx(0.001) and 2 * found.reading == pytest.approx(0.0016, abs=5e-5)
    assert found.cause is Cause.MEASURING and found.seating is None
    assert "shows no error" in found.text and "0.0010 in off" in found.text and "turned" in found.text


def test_how_many_more_readings_would_show_it() -> None:
    """t at 4 degrees of freedom is 2.776, so reading does 0.00227: (0.00227 / 0.001)² = 5.1, more than 5 times."""
    assert "finer instrument" in verdict(WORKED).cheapest
    twice = ends((1.012, 1.013, 1.011), (1.0145, 1.0125, 1.0135))  # (0.00227 / 0.0015)² = 2.3
    assert "each spot 3 times as often" in verdict(twice).cheapest


def test_no_number_of_readings_beats_the_limit_of_the_instrument() -> None:
    coarse = verdict(Run(0.001, 0.0001, limit=0.0006))
    assert coarse.cause is Cause.MEASURING and "finer instrument" in coarse.cheapest
    fine = verdict(Run(0.001, 0.0006, limit=0.0001))
    assert fine.cause is Cause.MEASURING and "2 times as often" in fine.cheapest


def test_the_limit_leaves_fewer_readings_that_help() -> None:
    """1.96² = 3.8415: reading and limit do (3.8415 (0.6² + 0.3²))^½ = 1.315 of a difference of 1.0 (all thousandths);
    (1.7287 - 0.3457) / (1 - 0.3457) = 2.1, so more than twice as many."""
    found = verdict(Run(0.001, 0.0006, limit=0.0003))
    assert found.cause is Cause.MEASURING and "each spot 3 times as often" in found.cheapest
    assert "reading alone can do 0.0013 in" in found.text


def test_of_several_instruments_the_one_that_may_be_most_wrong_counts() -> None:
    for limits in ((0.0, 0.0006), (0.0006, 0.0)):
        found = verdict(*(Run(0.001, 0.0001, limit=limit) for limit in limits))
        assert found.cause is Cause.MEASURING


def test_two_runs_far_apart_know_their_seating_badly() -> None:
    """12 and 20 thousandths: s 5.66, of the mean 4.0; t at one degree of freedom is 12.7, so 51 may come of seating."""
    found = verdict(Run(0.012, 0.0001), Run(0.020, 0.0001))
    assert found.cause is Cause.MEASURING and "within that" in found.text


def test_one_run_cannot_tell_the_saw_from_its_seating() -> None:
    found = verdict(FAR)
    assert found.cause is Cause.CANNOT_TELL and "more than reading again explains" in found.text
    assert "once more with nothing touched (about 15 minutes)" in found.cheapest


def test_two_runs_that_agree_show_the_saw() -> None:
    found = verdict(FAR, AGREES)
    assert found.cause is Cause.SAW and "2 untouched runs agree on 0.0182 in" in found.text and not found.cheapest


def test_runs_that_differ_by_far_more_than_reading_are_seating() -> None:
    found = verdict(
        ends((1.012, 1.0121, 1.012), (1.016, 1.0161, 1.016)), ends((0.998, 0.9981, 0.998), (1.010, 1.0101, 1.010))
    )
    assert found.cause is Cause.MEASURING and "not what was set" in found.text and "within that" in found.text
    assert found.seating == pytest.approx(0.008 / math.sqrt(2)) and "press to one side" in found.cheapest


def test_a_saw_that_is_out_by_far_more_than_its_seating() -> None:
    found = verdict(*(Run(d, 0.0001, freedom=2) for d in (0.040, 0.042, 0.039, 0.041, 0.040)))
    assert found.cause is Cause.SAW and "beyond it all the same" in found.text


def test_runs_that_point_both_ways() -> None:
    found = verdict(*(Run(d, 0.0007, freedom=2) for d in (-0.0005, 0.003, 0.003, 0.003, 0.003, 0.003)))
    assert found.cause is Cause.CANNOT_TELL and "no more than runs may differ" in found.text
    assert "once more" in found.cheapest


def test_what_is_usual_here_tells_from_one_run() -> None:
    """A shop that knows its seating needs no second run for a difference ten times as large."""
    far = ends((1.012, 1.013, 1.012), (1.052, 1.053, 1.052))
    found = verdict(far, usual=EstimatedSd(0.003, 8))
    assert found.cause is Cause.SAW and "one run shows 0.0400 in off" in found.text
    near = ends((1.012, 1.013, 1.012), (1.016, 1.017, 1.016))
    assert verdict(near, usual=EstimatedSd(0.003, 8)).cause is Cause.CANNOT_TELL


def test_more_runs_show_less() -> None:
    """Runs known to scatter by 3 thousandths: of the mean of four 1.962 x 3 / 2 = 2.94 may come, t at 1,000 degrees."""
    usual = EstimatedSd(0.003, 1000)
    assert verdict(*[Run(0.0030, 0.0005)] * 4, usual=usual).cause is Cause.SAW
    assert verdict(*[Run(0.0029, 0.0005)] * 4, usual=usual).cause is Cause.CANNOT_TELL
    assert verdict(*[Run(0.0030, 0.0005)] * 3, usual=usual).cause is Cause.CANNOT_TELL


def test_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="no run"):
        verdict()
    for wrong in ({"reading": -1.0}, {"reading": 1.0, "limit": -1.0}, {"reading": 1.0, "freedom": 0.0}):
        with pytest.raises(ValueError, match="0 or more"):
            Run(1.0, **wrong)


def simulated(rng: np.random.Generator, saw: float, seat: float, s: float, runs: int) -> list[Run]:
    found = []
    for _ in range(runs):
        d = saw + rng.normal(0.0, seat)
        found.append(ends(tuple(rng.normal(1.0, s, 3)), tuple(rng.normal(1.0 + d, s, 3))))
    return found


def share(cause: Cause, seed: int, saw: float, seat: float, runs: int = 2, usual: EstimatedSd | None = None) -> float:
    rng = np.random.default_rng(seed)
    found = [verdict(*simulated(rng, saw, seat, 0.001, runs), usual=usual).cause for _ in range(800)]
    return found.count(cause) / len(found)


def test_a_true_saw_is_hardly_ever_blamed() -> None:
    """Nothing out, little seating: at most 5 of 100 pairs of runs; much seating: only with what is usual known."""
    assert share(Cause.SAW, 11, 0.0, 0.0002) < 0.05
    assert share(Cause.SAW, 12, 0.0, 0.008, usual=EstimatedSd(0.008, 4)) < 0.06
    assert share(Cause.SAW, 13, 0.0, 0.008, runs=5) < 0.06


def test_a_saw_that_is_out_is_named() -> None:
    assert share(Cause.SAW, 14, 0.012, 0.001) > 0.9
    assert share(Cause.SAW, 15, 0.012, 0.001, usual=EstimatedSd(0.0014, 8)) > 0.9
