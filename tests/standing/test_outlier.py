"""Several checks of one feature: fused by what they measure; one that disagrees is set aside and shown."""

import math

import pytest
from scipy.stats import norm
from scipy.stats import t as t_dist
from tests.standing.rows import FENCE, five_cut, hour, moved

from trued.advice.statuses import standings
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.estimate import ErrorSource, Shape, UncertainValue
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.history.history import History, Result
from trued.standing.learned.learned_state import fold_history
from trued.standing.outlier import most_apart

RUN_S, READ_U = 1e-4, 2e-5


def flip(n: float, x: float, board: float = 0.0) -> Result:
    """A flip test: its own scatter between runs, and the edge of the board that it was made with."""
    parts = [
        ErrorSource("run:flip", "seating of the pieces", RUN_S, 4.0),
        ErrorSource("reading:gap@", "feelers", READ_U, 10),
    ]
    if board:
        parts.append(ErrorSource("board:edge", "edge of the board", board, math.inf, Shape.NORMAL))
    return Result(
        hour(n), FENCE, "rad", UncertainValue.of(x, *parts), "flip", f"flip-{n:g}", ToleranceLimits.within(2e-4)
    )


def of(*runs: Result, at: float = 50.0, moves: tuple = ()) -> FeatureStatus:  # type: ignore[type-arg]
    (standing,) = standings(History(runs, moves), hour(at))
    return standing


def test_two_checks_that_agree_are_weighed() -> None:
    """By the inverse of each one's variance: 3.4e-9 and 1.04e-8, worked by hand."""
    standing = of(five_cut(0, 1e-4), flip(1, 2e-4), at=1)
    weights = 1.0 / (5e-5**2 + 3e-5**2), 1.0 / (RUN_S**2 + READ_U**2)
    mean = (weights[0] * 1e-4 + weights[1] * 2e-4) / sum(weights)
    assert standing.x.value == pytest.approx(mean, rel=1e-3) and standing.set_aside == ()


def test_what_runs_share_does_not_shrink() -> None:
    """Twenty flip tests with one board know no more than its edge lets them; twenty without it do."""
    with_board = of(*(flip(n, 1e-4, board=5e-5) for n in range(20)))
    without = of(*(flip(n, 1e-4) for n in range(20)))
    assert with_board.x.u == pytest.approx(math.hypot(5e-5, without.x.u), rel=0.02)
    assert "edge of the board" in with_board.x.shares()


def test_another_check_that_disagrees_is_set_aside_and_shown() -> None:
    runs = tuple(five_cut(n, 1e-5) for n in range(4))
    before = of(*runs, at=3)
    standing = of(*runs, flip(4, 1.5e-3), at=3)
    assert before.x.value == standing.x.value  # what is after `now` is not known yet
    standing = of(*runs, flip(4, 1.5e-3), at=4)
    assert standing.x.value == pytest.approx(before.x.value, rel=1e-6)
    assert len(standing.set_aside) == 1 and "flip of 2026-03-02" in standing.set_aside[0]
    assert standing.decision is Conformity.NOT_PROVEN and standing.next is not None
    assert (
        standing.next.do is ActionKind.MEASURE and "disagree" in standing.next.why and standing.next.check == "five-cut"
    )


def test_a_run_more_settles_it() -> None:
    runs = tuple(five_cut(n, 1e-5) for n in range(4))
    standing = of(*runs, flip(4, 1.5e-3), five_cut(5, 2e-5), at=5)
    assert standing.decision is Conformity.PROVEN_IN and len(standing.set_aside) == 1


def test_the_feature_s_own_check_outweighs_the_others() -> None:
    standing = of(flip(0, 1.5e-3), five_cut(1, 0.0), at=1)
    assert standing.x.value == pytest.approx(0.0, abs=1e-9)
    assert len(standing.set_aside) == 1 and "disagrees with later runs" in standing.set_aside[0]


def test_two_against_one_when_something_moved_that_nobody_told() -> None:
    """Runs at nought, then two far off that agree: the later ones count, the earlier are set aside."""
    runs = tuple(five_cut(n, 1e-5 * (-1) ** n) for n in range(8))
    once = of(*runs, five_cut(8, 2e-3), at=8)
    assert once.x.value == pytest.approx(0.0, abs=3e-5) and once.decision is Conformity.NOT_PROVEN
    twice = of(*runs, five_cut(8, 2e-3), five_cut(9, 2.02e-3), at=9)
    assert twice.x.value == pytest.approx(2.01e-3, rel=0.01) and twice.runs == 2
    assert twice.decision is Conformity.PROVEN_OUT and "2026-03-02" in twice.set_aside[0]


def test_two_of_a_lesser_check_do_not_outweigh_the_own_one() -> None:
    runs = tuple(five_cut(n, 1e-5) for n in range(4))
    standing = of(*runs, flip(4, 1.5e-3), flip(5, 1.5e-3), at=5)
    assert standing.x.value == pytest.approx(1e-5, rel=0.01) and len(standing.set_aside) == 2


def test_a_slip_of_the_hand_spoils_no_scatter() -> None:
    runs = tuple(five_cut(n, 1e-5 * (-1) ** n) for n in range(8))
    calm = fold_history(History(runs)).repeats["five-cut", "sled"]
    slipped = fold_history(History((*runs, five_cut(8, 5e-3)))).repeats["five-cut", "sled"]
    assert slipped == calm


def test_a_move_begins_anew() -> None:
    runs = tuple(five_cut(n, 1e-5) for n in range(4))
    standing = of(*runs, flip(4, 1.5e-3), five_cut(6, 1e-5), at=6, moves=(moved(5, 1e-4),))
    assert standing.set_aside == () and standing.runs == 1


def test_few_degrees_of_freedom_do_not_excuse_everything() -> None:
    """Student's t at 1 in 10,000 with 3 degrees of freedom is 28.0 (scipy); a shop three times as loose as usual shows
    11.7 standard deviations so rarely, by the normal distribution's 3.891."""
    assert t_dist.ppf(1.0 - 0.5e-4, 3) > 28.0
    assert most_apart(1e-4, 3.0) == pytest.approx(3.0 * norm.ppf(1.0 - 0.5e-4), rel=1e-6)
    assert most_apart(1e-4, 8.0) == pytest.approx(t_dist.ppf(1.0 - 0.5e-4, 8), rel=1e-6)
