"""The scatter between runs is learnt: from untouched pairs, and from runs that were foretold."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.standing.rows import FENCE, READ_U, RUN_S, five_cut, happened, kerf, moved

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.history.history import History
from trued.standing.learned.repeatability_of import repeatability_of
from trued.standing.repeats.repeat_runs import Innovation
from trued.standing.repeats.variance_update import updated

COUNTS = (RUN_S**2 / (RUN_S**2 + READ_U**2)) ** 2  # of a reading: what an untouched run says of the scatter


def test_nothing_on_record_is_what_the_check_takes_for_usual() -> None:
    start = EstimatedSd(RUN_S, 4)
    assert repeatability_of(History(), "five-cut", "sled", start) == start
    assert repeatability_of(History(), "five-cut", "sled") is None


def test_one_run_teaches_nothing_of_the_scatter() -> None:
    known = repeatability_of(History((five_cut(0, 3e-4),)), "five-cut", "sled")
    assert known == EstimatedSd(RUN_S, 4.0)


def test_an_untouched_pair_counts_once() -> None:
    known = repeatability_of(History((five_cut(0, 3e-4), five_cut(1, 4e-4))), "five-cut", "sled")
    assert known is not None and (known.seen, known.pairs) == (1, 1)
    assert known.dof == pytest.approx(4.0 + COUNTS, rel=1e-3)
    assert known.s > RUN_S  # they differ by more than was usual


@pytest.mark.parametrize("between", ["move", "facing-renewed", "saw-carried"])
def test_what_lies_between_breaks_the_pair(between: str) -> None:
    runs = (five_cut(0, 3e-4), five_cut(2, 3.1e-4))
    touched = History(runs, (moved(1, 1e-4),)) if between == "move" else History(runs, (), (happened(1, between),))
    known = repeatability_of(touched, "five-cut", "sled")
    assert known is not None and known.pairs == 0


def test_an_event_that_does_not_touch_it_leaves_the_pair() -> None:
    history = History((five_cut(0, 3e-4), five_cut(2, 3.1e-4)), (), (happened(1, "tilt-used"),))
    known = repeatability_of(history, "five-cut", "sled")
    assert known is not None and known.pairs == 1


def test_another_fixture_and_a_check_without_scatter_have_their_own() -> None:
    history = History((five_cut(0, 3e-4), five_cut(1, 3e-4), kerf(2)))
    assert repeatability_of(history, "five-cut", "gauge") is None
    assert repeatability_of(history, "kerf", "blade") is None


def test_the_first_run_tells_the_start() -> None:
    """A later run carries what was known when it was typed; the start is taken from the first."""
    later = five_cut(1, 3.1e-4, s=9e-5, dof=7)
    known = repeatability_of(History((later, five_cut(0, 3e-4))), "five-cut", "sled")
    assert known is not None and known.dof == pytest.approx(4.0 + COUNTS, rel=1e-3)


def test_a_miss_that_is_all_its_own_is_one_reading() -> None:
    start = EstimatedSd(RUN_S, 4.0)
    assert updated(start, Innovation(8e-5, 1.0, 0.0)) == start.learn((8e-5,))
    assert updated(start, Innovation(1.6e-4, 2.0, 0.0)).s == pytest.approx(start.learn((8e-5,)).s)


def test_a_miss_counts_by_what_it_says_of_the_scatter() -> None:
    """Fisher's information about s^2 of a normal miss is 1 / (2 (s^2 + other)^2), against 1 / (2 s^4) alone."""
    start, other = EstimatedSd(1.0, 4.0), 0.5
    alone, mixed = 1.0 / 2.0, 1.0 / (2.0 * (1.0 + other) ** 2)
    assert updated(start, Innovation(1.0, 1.0, other)).dof - 4.0 == pytest.approx(mixed / alone)


@given(st.floats(0.0, 3.0), st.floats(0.0, 10.0), st.floats(0.1, 5.0), st.floats(0.0, 10.0))
def test_a_scatter_stays_one(s: float, miss: float, gain: float, other: float) -> None:
    after = updated(EstimatedSd(s, 1.0), Innovation(miss, gain, other))
    assert after.s >= 0.0 and after.dof >= 1.0


@pytest.mark.parametrize("true", [2e-5, 5e-5, 1.5e-4])
def test_the_shop_s_own_scatter_comes_out_in_the_end(true: float) -> None:
    """800 untouched runs of a shop whose scatter is not the usual one; the readings' own part is not taken for it."""
    rng = np.random.default_rng(8)
    runs = tuple(five_cut(i / 4, float(x)) for i, x in enumerate(rng.normal(1e-4, math.hypot(true, READ_U), 800)))
    known = repeatability_of(History(runs), "five-cut", "sled")
    assert known is not None and known.pairs >= 797  # one honest run in some hundred is asked about
    assert known.s == pytest.approx(true, rel=0.2)


def test_a_run_that_was_foretold_teaches_too() -> None:
    """Three runs untouched, a small move, and a run far from what was foretold: the scatter grows."""
    runs = tuple(five_cut(i, 1e-4) for i in range(3))
    near = History((*runs, five_cut(4, 0.8e-4)), (moved(3, 0.2e-4),))
    far = History((*runs, five_cut(4, -1.2e-4)), (moved(3, 0.2e-4),))
    calm, wild = repeatability_of(near, "five-cut", "sled"), repeatability_of(far, "five-cut", "sled")
    assert calm is not None and wild is not None
    assert calm.seen == wild.seen == 3 and calm.pairs == wild.pairs == 2
    assert wild.s > 1.1 * calm.s


def test_a_run_after_a_great_doubt_teaches_nothing() -> None:
    history = History((five_cut(0, 1e-4), five_cut(4, 9e-4)), (), (happened(3, "screw-touched", "sled"),))
    known = repeatability_of(history, "five-cut", "sled")
    assert known is not None and known.seen == 0


def test_a_start_of_nought_learns_too() -> None:
    assert updated(EstimatedSd(0.0, 1.0), Innovation(2e-5, 1.0, 0.0)).s == pytest.approx(2e-5 / math.sqrt(2.0))
    assert updated(EstimatedSd(0.0, 1.0), Innovation(0.0, 1.0, 0.0)).s == 0.0


def test_only_the_feature_s_own_name_counts() -> None:
    assert FENCE in History((five_cut(0, 1e-4),)).features
