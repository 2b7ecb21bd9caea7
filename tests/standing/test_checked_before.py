"""What bar play and the caliper measured as the start of how the five cuts repeat."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.special import digamma, polygamma  # type: ignore[import-untyped]
from tests.standing.rows import FENCE, five_cut, happened, hour, moved

from trued.advice.statuses import standings
from trued.measure.decision import Conformity
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.feature_status import FeatureStatus
from trued.standing.history.history import Adjustment, Answered, History, Result, ShopEvent
from trued.standing.learned.learned_state import fold_history
from trued.standing.pooled.checked_before import known_to, start_by_swing

SWING = 2.4e-4


def bar_swing(n: float, swing: float = SWING, u: float = 2e-5) -> Result:
    x = UncertainValue.of(swing, ErrorSource("reading:play@start", "indicator: repeat of a reading", u))
    return Result(hour(n), "sled.bar-swing", "rad", x, "bar-play", f"play-{n:g}")


def caliper(n: float, name: str = "caliper-1") -> Result:
    x = UncertainValue.of(0.012, ErrorSource("edge:scatter", "few readings", 0.004, 4.0))
    return Result(hour(n), f"{name}.caliper-repeat", "mm", x, "caliper", f"caliper-{n:g}")


def run(n: float, x: float) -> Result:
    """A run of five cuts that was read with caliper-1."""
    row = five_cut(n, x)
    parts = {
        replace(s, pool="repeat:caliper-1") if s.key.startswith("reading:") else s: c for s, c in row.x.parts.items()
    }
    return replace(row, x=UncertainValue(x, parts))


def standing(
    *rows: Result, at: float = 9, moves: tuple[Adjustment, ...] = (), events: tuple[ShopEvent, ...] = ()
) -> FeatureStatus:
    found = standings(History(rows, moves, events), hour(at))
    return next(one for one in found if one.feature == FENCE)


@pytest.mark.parametrize(("doubt", "off"), [(0.2, 0.01), (0.3, 0.01), (0.5, 0.06)])
def test_the_logarithm_has_the_mean_and_spread_that_were_asked_for(doubt: float, off: float) -> None:
    """Against the polygamma functions of a reference library: of s^2 = S^2 dof / chi^2."""
    told = known_to(1.0, doubt)
    a = told.dof / 2.0
    assert 0.5 * math.sqrt(float(polygamma(1, a))) == pytest.approx(doubt, rel=off)
    assert math.log(told.s) + 0.5 * (math.log(a) - float(digamma(a))) == pytest.approx(0.0, abs=off)


def test_four_cuts_that_stand_anywhere_within_the_swing() -> None:
    """Drawn: the mean of four cuts, each evenly spread over the swing, scatters as the start says on the whole."""
    rng = np.random.default_rng(3)
    drawn = rng.uniform(-SWING / 2, SWING / 2, (200_000, 4)).mean(axis=1).std()
    known = fold_history(History((bar_swing(0, u=1e-9),)))
    start = start_by_swing("five-cut", "sled", known.features)
    assert start is not None
    a = start.dof / 2.0
    assert start.s * math.exp(0.5 * (math.log(a) - float(digamma(a)))) == pytest.approx(float(drawn), rel=0.01)
    assert start_by_swing("flip", "sled", known.features) is None
    assert start_by_swing("five-cut", "gauge", known.features) is None


def test_a_swing_that_was_read_badly_is_known_badly() -> None:
    sharp, vague, none = (
        start_by_swing("five-cut", "sled", fold_history(History((bar_swing(0, swing, u),))).features)
        for swing, u in ((SWING, 1e-5), (SWING, 1e-4), (0.0, 5e-5))
    )
    assert sharp is not None and vague is not None and none is not None
    assert sharp.dof > 5.0 > vague.dof > none.dof and none.s > 0.0


def test_with_bar_play_and_caliper_one_run_may_prove() -> None:
    before = bar_swing(0), caliper(1)
    one = standing(*before, run(2, 0.1e-4))
    assert (one.decision, one.scatter_source) == (Conformity.PROVEN_IN, "bar-play")
    after = standing(*before, run(2, 4e-4), run(4, 0.2e-4), moves=(moved(3, 3.6e-4),))
    assert after.decision is Conformity.PROVEN_IN and after.runs == 1
    for some in ((), before[:1], before[1:], (bar_swing(0), caliper(1, "caliper-2"))):
        alone = standing(*some, run(2, 0.1e-4))
        assert (alone.decision, alone.scatter_source) == (Conformity.NOT_PROVEN, "assumed")


def test_a_bar_that_was_adjusted_since_shows_nothing() -> None:
    rows = bar_swing(0), caliper(1), run(3, 0.1e-4)
    adjusted = standing(*rows, events=(happened(2, "bar-adjusted", "sled"),))
    dropped = standing(*rows, events=(happened(2, "caliper-dropped", "caliper-1"),))
    assert adjusted.scatter_source == "assumed" and adjusted.decision is Conformity.NOT_PROVEN
    assert dropped.scatter_source == "bar-play"  # its zero is in doubt, not how it repeats
    again = standing(*rows, bar_swing(4), run(5, 0.1e-4), events=(happened(2, "bar-adjusted", "sled"),))
    assert again.decision is Conformity.PROVEN_IN and again.scatter_source in ("bar-play", "seen")


def test_the_order_in_which_they_were_checked_changes_nothing() -> None:
    """Bar play found after the run is its start as well, and what was seen here stays."""
    first = fold_history(History((bar_swing(0), run(1, 1e-4), run(2, 1.4e-4))))
    last = fold_history(History((run(1, 1e-4), run(2, 1.4e-4), bar_swing(3))))
    one, other = (known.shown("five-cut", "sled") for known in (first, last))
    assert one is not None and other is not None and (one.pairs, other.pairs) == (1, 1)
    assert other.s == pytest.approx(one.s, rel=0.1) and other.dof == pytest.approx(one.dof, rel=0.1)


def test_a_swing_found_far_from_the_one_before_and_confirmed_is_the_start_from_then_on() -> None:
    """It took the place of the first, but the five cuts went on from the swing that was left."""
    yes = (Answered(hour(3), "play-2", "confirm", "yes", "answer-1"),)
    known = fold_history(History((run(0, 1e-4), bar_swing(1, 1e-4), bar_swing(2, 8e-4)), answered=yes))
    alone = fold_history(History((run(0, 1e-4), bar_swing(2, 8e-4)), answered=yes))
    shown, told = (some.shown("five-cut", "sled") for some in (known, alone))
    assert shown is not None and told is not None and shown.s == pytest.approx(told.s, rel=0.01)


def test_an_untouched_pair_is_seen_here() -> None:
    assert standing(run(1, 0.2e-4), run(2, 0.1e-4)).scatter_source == "seen"
    assert standing(run(1, 0.2e-4)).scatter_source == "assumed"


def test_a_wide_play_gives_a_wide_interval_and_a_narrow_one_a_narrow() -> None:
    wide, usual, narrow = (
        standing(*some, run(2, 1e-4)).x.u for some in ((bar_swing(0, 8e-4),), (), (bar_swing(0, 6e-5, 1e-5),))
    )
    assert wide > 1.5 * usual > 1.5 * narrow
