"""Saw or measuring: the worked case, every verdict with the cheapest way on, and how often it is right."""

import numpy as np
import pytest

from trued.measure.scatter import Scatter
from trued.measure.which_dominates import Cause, Run, which_dominates

WORKED = Run((1.012, 1.013, 1.011), (1.014, 1.012, 1.013))


def verdict(*runs: Run, minutes: float = 15.0) -> tuple[Cause, str, str]:
    found = which_dominates(runs, run_minutes=minutes)
    return found.cause, found.text, found.cheapest


def test_worked_by_hand() -> None:
    """Ends 1.012 1.013 1.011 and 1.014 1.012 1.013: D 0.001, s 0.001, twice the uncertainty 0.0016: no move."""
    found = which_dominates([WORKED], run_minutes=15.0)
    assert found.difference == pytest.approx(0.001)
    assert found.reading is not None and 2 * found.reading == pytest.approx(0.0016, abs=5e-5)
    assert found.cause is Cause.MEASURING and found.seating is None
    assert "does not show an error" in found.text and "0.0010 in" in found.text
    assert "read either end 9 times" in found.cheapest or "either end 8 times" in found.cheapest


def test_one_reading_each_cannot_tell() -> None:
    cause, text, cheapest = verdict(Run((1.012,), (1.030,)))
    assert cause is Cause.CANNOT_TELL and "no spot was read twice" in text
    assert "Read either end twice more" in cheapest and "2 minutes" in cheapest


def test_one_run_cannot_tell_the_saw_from_its_seating() -> None:
    cause, text, cheapest = verdict(Run((1.012, 1.013, 1.012), (1.030, 1.031, 1.030)))
    assert cause is Cause.CANNOT_TELL and "more than reading them again explains" in text
    assert "once more with nothing touched (about 15 minutes)" in cheapest


def test_two_runs_that_agree_show_the_saw() -> None:
    cause, text, cheapest = verdict(
        Run((1.012, 1.013, 1.012), (1.030, 1.031, 1.030)), Run((0.998, 0.999, 0.998), (1.0165, 1.0165, 1.017))
    )
    assert cause is Cause.SAW and "2 untouched runs agree" in text and not cheapest


def test_runs_that_differ_by_far_more_than_reading_are_seating() -> None:
    cause, text, cheapest = verdict(
        Run((1.012, 1.0121, 1.012), (1.016, 1.0161, 1.016)), Run((0.998, 0.9981, 0.998), (1.010, 1.0101, 1.010))
    )
    assert cause is Cause.MEASURING and "not the angle" in text and "within that" in text
    assert "press to one side" in cheapest


def test_a_saw_that_is_out_by_far_more_than_its_seating() -> None:
    runs = [Run((1.0, 1.0001), (1.0 + d, 1.0001 + d)) for d in (0.040, 0.042, 0.039, 0.041, 0.040)]
    cause, text, _ = verdict(*runs)
    assert cause is Cause.SAW and "beyond it all the same" in text


def test_runs_that_point_both_ways() -> None:
    runs = [Run((1.0, 1.001), (1.0 + d, 1.001 + d)) for d in (-0.0005, 0.003, 0.003, 0.003, 0.003, 0.003)]
    cause, text, cheapest = verdict(*runs)
    assert cause is Cause.CANNOT_TELL and "no more than runs may differ" in text and "once more" in cheapest


def test_what_is_usual_here_tells_from_one_run() -> None:
    """A shop that knows its seating needs no second run for a difference ten times as large."""
    far = [Run((1.012, 1.013, 1.012), (1.052, 1.053, 1.052))]
    found = which_dominates(far, run_minutes=15.0, usual=Scatter(0.003, 8))
    assert found.cause is Cause.SAW and "One run shows" in found.text
    near = [Run((1.012, 1.013, 1.012), (1.016, 1.017, 1.016))]
    assert which_dominates(near, run_minutes=15.0, usual=Scatter(0.003, 8)).cause is Cause.CANNOT_TELL


def test_what_no_number_of_readings_shows() -> None:
    _, _, cheapest = verdict(Run((1.012, 1.014, 1.010), (1.0122, 1.0142, 1.0102)))
    assert "longer test piece" in cheapest


def test_other_units_are_only_words() -> None:
    found = which_dominates([Run((25.41, 25.42), (25.44, 25.43))], run_minutes=15.0, unit="mm", digits=2)
    assert "0.02 mm" in found.text


def test_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="no run"):
        which_dominates([], run_minutes=1.0)
    with pytest.raises(ValueError, match="either end"):
        Run((), (1.0,))


def simulated(rng: np.random.Generator, saw: float, seat: float, s: float, runs: int) -> list[Run]:
    found = []
    for _ in range(runs):
        d = saw + rng.normal(0.0, seat)
        found.append(Run(tuple(rng.normal(1.0, s, 3)), tuple(rng.normal(1.0 + d, s, 3))))
    return found


def share(cause: Cause, seed: int, saw: float, seat: float, runs: int = 2, usual: Scatter | None = None) -> float:
    rng = np.random.default_rng(seed)
    found = [
        which_dominates(simulated(rng, saw, seat, 0.001, runs), run_minutes=15, usual=usual).cause for _ in range(800)
    ]
    return found.count(cause) / len(found)


def test_a_true_saw_is_hardly_ever_blamed() -> None:
    """Nothing out, little seating: at most 5 of 100 pairs of runs; much seating: only with what is usual known."""
    assert share(Cause.SAW, 11, 0.0, 0.0002) < 0.05
    assert share(Cause.SAW, 12, 0.0, 0.008, usual=Scatter(0.008, 4)) < 0.06
    assert share(Cause.SAW, 13, 0.0, 0.008, runs=5) < 0.06


def test_a_saw_that_is_out_is_named() -> None:
    assert share(Cause.SAW, 14, 0.012, 0.001) > 0.9
    assert share(Cause.SAW, 15, 0.012, 0.001, usual=Scatter(0.001, 8)) > 0.9
