"""What the last moves show together, by their findings alone."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm, t
from tests.standing.rows import FENCE, five_cut, happened, hour, moved

from trued.advice.statuses import standings
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.filtered.filtered_feature import FilteredFeature
from trued.standing.filtered.observed_gain import BACKLASH, CLAMPED, ObservedGain, gain_fault, mean_gain
from trued.standing.history.history import History
from trued.standing.learned.learned_state import fold_history

RUN = 6e-5


def chain(*moves: tuple[float, float]) -> list[ObservedGain]:
    """Moves (u, part that arrives) one after the other, two runs between."""
    x, made = 0.0, []
    for u, share in moves:
        made.append(ObservedGain(u, hour(0), x, 2, x - share * u, RUN**2, 3e-5, 2))
        x = made[-1].after
    return made


def of(history: History, at: float) -> FeatureStatus:
    (standing,) = standings(history, hour(at))
    return standing


def test_share_and_its_doubt_by_simulation() -> None:
    rng = np.random.default_rng(1)
    before, after = rng.normal(9e-4, RUN / math.sqrt(2), 40_000), rng.normal(3e-4, RUN / math.sqrt(2), 40_000)
    shares = (before - after + rng.normal(0.0, 3e-5, 40_000)) / 8e-4
    one = ObservedGain(8e-4, hour(0), 9e-4, 2, 3e-4, RUN**2, 3e-5, 2)
    assert one.share == pytest.approx(0.75) == pytest.approx(float(shares.mean()), abs=0.01)
    assert one.sd == pytest.approx(float(shares.std()), rel=0.02)


@pytest.mark.parametrize(
    ("shares", "told"),
    [
        ((0.02, -0.05), "screw-not-touching"),
        ((0.5, 0.45, 0.55), CLAMPED),
        ((2.1, 1.9), "over-correction"),
        ((1.0, 0.9), ""),
        ((0.8, 0.8), ""),
        ((0.5,), ""),  # one move alone may have slipped
        ((0.05, 1.0), ""),  # they do not agree
        ((-1.0, -1.0), ""),  # the filter names it
    ],
)
def test_a_story_is_told_by_moves_that_agree(shares: tuple[float, ...], told: str) -> None:
    assert gain_fault(chain(*((8e-4, share) for share in shares))) == told


def test_the_part_is_the_slope_of_a_line_and_is_told_when_it_is_sure() -> None:
    """A reference library's weighted line and normal distribution."""
    for first, second in ((8e-4, 4e-4), (3e-4, -1e-4)):
        two = chain((first, 0.65), (second, 0.5))
        turned, found = [0.0, first, first + second], [0.0, two[0].after, two[1].after]
        sds = [RUN / math.sqrt(2.0), *[math.hypot(RUN / math.sqrt(2.0), 3e-5)] * 2]
        (slope, _), covariance = np.polyfit(turned, found, 1, w=[1.0 / sd for sd in sds], cov="unscaled")
        mean, sd = mean_gain(two)
        assert mean == pytest.approx(-slope) and sd == pytest.approx(math.sqrt(covariance[0, 0]))
        assert (gain_fault(two) == CLAMPED) is bool(norm.cdf((0.8 - mean) / sd) >= 0.95)


def test_one_odd_run_between_two_moves_tells_nothing() -> None:
    """The run after the first move read too far, so that both moves seem to go twice as far as they were told."""
    odd = [
        ObservedGain(6e-4, hour(0), 6e-4, 1, -3e-4, RUN**2, 3e-5),
        ObservedGain(-2e-4, hour(0), -3e-4, 1, 1e-4, RUN**2, 3e-5),
    ]
    assert [a.share for a in odd] == pytest.approx([1.5, 2.0]) and gain_fault(odd) == ""


def test_too_far_is_told_by_students_t() -> None:
    """A reference library's quantile, of a scatter that is known from four readings only."""
    two = chain((3e-4, 1.8), (-2.4e-4, 1.8))
    mean, sd = mean_gain(two)
    assert t.ppf(0.98, 20) < (mean - 1.2) / sd < t.ppf(0.98, 4)
    assert gain_fault([replace(a, dof=20.0) for a in two]) == "over-correction"
    assert gain_fault([replace(a, dof=4.0) for a in two]) == ""


def test_what_was_turned_before_something_happened_does_not_count() -> None:
    apart = [*chain((8e-4, 0.5)), replace(chain((8e-4, 0.5))[0], before=9e-4, after=5e-4)]
    assert gain_fault(apart) == "" and gain_fault(chain((8e-4, 0.5), (8e-4, 0.5))) == CLAMPED
    assert gain_fault([]) == ""


def test_a_move_turned_back_that_falls_short_is_play() -> None:
    there = (8e-4, 1.0), (8e-4, 0.95)
    assert gain_fault(chain(*there, (-6e-4, 0.4))) == BACKLASH
    assert gain_fault(chain(*there, (6e-4, 0.4))) != BACKLASH  # on, not back
    assert gain_fault(chain(*there, (-6e-4, 0.9))) == ""
    assert gain_fault(chain(*there, (-6e-4, -1.0))) == ""  # the wrong way is no play


def test_a_clamp_is_told_with_the_next_move() -> None:
    runs = [five_cut(n, x) for n, x in ((0, 20e-4), (1, 20e-4), (3, 14e-4), (4, 14e-4), (6, 10e-4), (7, 10e-4))]
    moves = (moved(2, 12e-4), moved(5, 8e-4))
    standing = of(History(tuple(runs), moves), 7)
    assert standing.blunder == CLAMPED and standing.next is not None
    assert standing.next.do is ActionKind.MOVE and "Does tightening pull the fence back?" in standing.next.why


def test_play_is_told_rather_than_a_slip() -> None:
    runs = [five_cut(n, x) for n, x in ((0, 20e-4), (1, 20e-4), (3, 10e-4), (4, 10e-4), (6, 12e-4), (7, 12e-4))]
    history = History(tuple(runs), (moved(2, 10e-4), moved(5, 8e-4, "close")))
    standing = of(history, 7)
    assert standing.blunder == BACKLASH and standing.next is not None and "Backlash" in standing.next.why


def test_only_moves_that_nothing_else_blurs_are_kept() -> None:
    runs = (five_cut(0, 20e-4), five_cut(1, 20e-4), five_cut(4, 10e-4), five_cut(5, 11e-4))
    plain = _arrivals(History(runs, (moved(2, 10e-4),)))
    assert len(plain) == 1 and plain[0].runs_before == plain[0].runs_after == 2
    assert plain[0].share == pytest.approx(0.95)
    assert _arrivals(History(runs, (moved(2, 10e-4),), (happened(3, "facing-renewed", "sled"),))) == ()
    assert _arrivals(History(runs, (moved(2, 1e-5),))) == ()  # lost in how it settles
    flip = replace(five_cut(4, 10e-4), check="flip")
    assert _arrivals(History((*runs[:2], flip), (moved(2, 10e-4),))) == ()


def _arrivals(history: History) -> tuple[ObservedGain, ...]:
    track = fold_history(history).features[FENCE]
    assert isinstance(track, FilteredFeature)
    return track.arrivals
