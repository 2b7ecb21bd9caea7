"""What was set aside is remembered, also after the feature was touched and the standing has forgotten it."""

from tests.standing.rows import FENCE, five_cut, kerf, moved
from tests.standing.test_outlier import flip, of

from trued.standing.filtered.filtered_feature import EARLIER, LATER
from trued.standing.history.history import History
from trued.standing.learned.outlier_history import ever_aside

RUNS = (*(five_cut(n, 1e-5) for n in range(4)), flip(4, 1.5e-3))


def test_it_is_what_the_standing_says_while_nothing_was_touched() -> None:
    (run,) = ever_aside(History(RUNS), FENCE)
    assert run == "flip-4" and len(of(*RUNS, at=4).set_aside) == 1


def test_it_is_still_told_after_a_move() -> None:
    later = (*RUNS, five_cut(6, 2e-5))
    move = (moved(5, 1e-5),)
    assert of(*later, at=6, moves=move).set_aside == ()
    told = ever_aside(History(later, move), FENCE)
    assert set(told) == {"flip-4"} and "disagrees with earlier runs" in told["flip-4"]


def test_what_came_back_is_not_told() -> None:
    """A flip and then two five-cuts that agree: the flip is out. Two fives that agree against one: the one is out."""
    told = ever_aside(History((five_cut(0, 0.0), five_cut(1, 2e-3), five_cut(2, 2e-3))), FENCE)
    assert "run-1" not in told and "run-2" not in told


def test_what_is_only_measured_is_set_aside_too_when_it_lies_far_off() -> None:
    assert ever_aside(History((kerf(0), kerf(1, 4.0))), "blade.kerf") == {"kerf-1": EARLIER}
    assert ever_aside(History((kerf(0), kerf(1, 2.5))), "blade.kerf") == {}
    both = History((kerf(0), kerf(1, 4.0), kerf(2, 4.01)))
    assert ever_aside(both, "blade.kerf") == {"kerf-0": LATER}  # two that agree: something moved that nobody told
    assert ever_aside(History(), FENCE) == {}
