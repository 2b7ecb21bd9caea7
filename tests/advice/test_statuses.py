"""The standing of every feature: stories of a shop, and laws that hold for every history."""

import math
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import chi2
from tests.standing.rows import FENCE, OFFSET, SLOPE, five_cut, happened, hour, kerf, moved, stop_scale

from trued.advice.statuses import standings, standings_of
from trued.equipment.file.read_shop import read_shop
from trued.equipment.fixture import Fixture
from trued.measure.decision import Conformity, ToleranceLimits, conformance_probability
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue, covariance
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.filtered.filtered_feature import FilteredFeature
from trued.standing.filtered.posterior import Posterior
from trued.standing.history.history import History, Result
from trued.standing.learned.learned_state import fold_history

SHOP = read_shop((Path(__file__).parents[2] / "examples" / "shop.toml").read_text(encoding="utf-8"))


def of(history: History, feature: str = FENCE, at: float = 10.0, **more: object) -> FeatureStatus:
    found = {s.feature: s for s in standings(history, hour(at), shop=SHOP, **more)}  # type: ignore[arg-type]
    return found[feature]


def test_no_history_no_number() -> None:
    assert standings(History(), hour(0)) == ()


def test_a_move_and_an_event_without_a_finding_give_no_mean() -> None:
    assert standings(History((), (moved(0, 1e-4),), (happened(1, "facing-renewed"),)), hour(2)) == ()


def test_what_is_still_to_come_is_not_known() -> None:
    assert standings(History((five_cut(5, 1e-4),)), hour(4)) == ()


def test_one_run_is_its_finding() -> None:
    run = five_cut(0, 3e-4)
    standing = of(History((run,)), at=0)
    assert (standing.x.value, standing.x.u) == (3e-4, pytest.approx(run.x.u))
    assert standing.x.dof == pytest.approx(run.x.dof)
    assert standing.chance_in == pytest.approx(conformance_probability(run.x, ToleranceLimits.within(2e-4)))


def test_one_run_proves_out_and_moves_a_little_less_than_all() -> None:
    """The full move of 0.0005 rad at 18 in is 0.0090 in; 0.917 of it is 0.0083, by feelers 0.0085."""
    standing = of(History((five_cut(0, 5e-4),)), at=0)
    assert standing.decision is Conformity.PROVEN_OUT and standing.next is not None
    assert standing.next.do is ActionKind.MOVE and standing.next.direction == "open"
    assert standing.next.amount == pytest.approx(5e-4 / 1.09)
    assert (
        "0.0085 in at the screw" in standing.next.text and "left end of the fence away from you" in standing.next.text
    )
    assert "0.0090 in at the screw" in standing.next.why and "Go 92%" in standing.next.why


@given(st.lists(st.floats(-6e-4, 6e-4), min_size=1, max_size=5), st.lists(st.floats(0.0, 4e-4), max_size=2))
def test_nothing_is_turned_while_the_way_is_not_known(found: list[float], turned: list[float]) -> None:
    """At least 95 % of what is believed lies on one side of the middle of the limits, or nothing is turned."""
    runs = [five_cut(2.0 * n, x) for n, x in enumerate(found)]
    moves = [moved(2.0 * n + 1.0, u) for n, u in enumerate(turned) if n + 1 < len(runs)]
    known = fold_history(History(tuple(runs), tuple(moves)))
    (standing,) = standings_of(known, hour(12), shop=SHOP)
    state = known.features[FENCE]
    assert isinstance(state, FilteredFeature) and standing.next is not None
    believed = Posterior.at(state, hour(12), known.shown("five-cut", "sled"))
    beyond = believed.chance_in(ToleranceLimits(None, 0.0))
    if standing.next.do is ActionKind.MOVE:
        assert max(beyond, 1.0 - beyond) >= 0.95


def test_one_run_never_proves_in() -> None:
    standing = of(History((five_cut(0, 0.1e-4),)), at=0)
    assert standing.chance_in is not None and standing.chance_in > 0.95
    assert standing.decision is Conformity.NOT_PROVEN and standing.next is not None
    assert standing.next.do is ActionKind.MEASURE and standing.next.check == "five-cut"
    assert "same setup" in standing.next.text and "15 min" in standing.next.text


def test_an_untouched_pair_proves_in() -> None:
    standing = of(History((five_cut(0, 0.2e-4), five_cut(1, 0.1e-4))), at=1)
    assert standing.decision is Conformity.PROVEN_IN and standing.runs == 2
    assert standing.next is not None and standing.next.do is ActionKind.LEAVE
    assert standing.since == hour(0)


def test_a_pair_on_record_lets_one_run_prove_in_after_a_move() -> None:
    history = History((five_cut(0, 4e-4), five_cut(1, 3.9e-4), five_cut(3, 0.1e-4)), (moved(2, 3.6e-4),))
    standing = of(history, at=3)
    assert standing.decision is Conformity.PROVEN_IN
    assert standing.runs == 1 and standing.since == hour(3)


def test_after_a_move_it_is_measured_before_it_is_believed() -> None:
    standing = of(History((five_cut(0, 5e-4), five_cut(0.5, 5e-4)), (moved(1, 4.6e-4),)), at=1)
    assert standing.x.value == pytest.approx(0.4e-4 + 2 * 0.08 * 4.6e-4, abs=1e-4)
    assert standing.decision is Conformity.NOT_PROVEN and standing.next is not None
    assert (standing.next.do, standing.next.check) == (ActionKind.MEASURE, "five-cut")
    assert standing.x.u > 1e-4  # what arrived is not known yet


def test_an_event_makes_it_stale_until_it_is_found_again() -> None:
    runs = (five_cut(0, 0.2e-4), five_cut(1, 0.1e-4))
    event = happened(2, "facing-renewed", "sled")
    stale = of(History(runs, (), (event,)), at=3)
    assert stale.stale == ("New fence facing",) and stale.decision is Conformity.NOT_PROVEN
    assert stale.next is not None and "New fence facing" in stale.next.why
    assert stale.x.u > 2e-4
    again = of(History((*runs, five_cut(4, 0.3e-4)), (), (event,)), at=4)
    assert again.stale == () and again.runs == 1
    assert of(History(runs, (), (happened(2, "tilt-used"),)), at=3).stale == ()


def test_a_reversed_screw_is_asked_about_and_then_turned_the_other_way() -> None:
    runs, moves = (five_cut(0, 8e-4), five_cut(2, 15.4e-4)), (moved(1, 7.3e-4),)
    asked = of(History(runs, moves), at=2)
    assert asked.blunder == "ends-swapped-or-reversed" and asked.asked is not None
    assert asked.response is not None and asked.response[0] == pytest.approx(1.0, abs=0.01)  # nothing is learnt yet
    standing = of(History((runs[0], replace(runs[1], right=True)), moves), at=2)
    assert standing.blunder == "ends-swapped-or-reversed" and standing.next is not None
    assert standing.next.direction == "close" and "Mark the fence end" in standing.next.why
    assert standing.response is not None and standing.response[0] < -0.5


def test_a_screw_that_does_not_touch_is_looked_at_not_turned() -> None:
    """The person has said that all is as it was recorded: the screw is named, and looked at."""
    runs = (five_cut(0, 8e-4), replace(five_cut(2, 8e-4), right=True), replace(five_cut(4, 8.1e-4), right=True))
    standing = of(History(runs, (moved(1, 7.3e-4), moved(3, 7.3e-4))), at=4)
    assert standing.blunder == "screw-not-touching" and standing.next is not None
    assert standing.next.do is ActionKind.LOOK and standing.next.amount is None
    looked_at = of(History((*runs, replace(five_cut(5, 8e-4), right=True)), (moved(1, 7.3e-4), moved(3, 7.3e-4))), at=5)
    assert looked_at.blunder == "screw-not-touching" and looked_at.next is not None
    assert (looked_at.next.do, looked_at.next.direction) == (
        ActionKind.MOVE,
        "open",
    ) and "does the screw touch now?" in looked_at.next.why
    assert looked_at.next.amount == pytest.approx(8e-4, rel=0.05)


def test_a_response_that_is_not_clear_is_measured_then_tried_with_a_small_move() -> None:
    runs = (five_cut(0, 8e-4), five_cut(2, 8.05e-4))
    once = of(History(runs, (moved(1, 5e-4),)), at=2)
    assert once.next is not None and once.next.do is ActionKind.MEASURE and once.blunder == ""
    twice = of(History((*runs, five_cut(3, 8.05e-4)), (moved(1, 5e-4),)), at=3)
    assert twice.blunder == "" and twice.next is not None and twice.next.do is ActionKind.MOVE
    assert twice.next.amount is not None and twice.next.amount < 8.1e-4 and "Test move" in twice.next.why


def test_a_response_once_seen_is_used() -> None:
    """60 % arrived of a move of 0.0008: the next one is larger than what is left."""
    runs = (five_cut(0, 20e-4), five_cut(1, 20e-4), five_cut(3, 15.2e-4), five_cut(4, 15.2e-4))
    standing = of(History(runs, (moved(2, 8e-4),)), at=4)
    assert standing.response is not None and standing.response[0] == pytest.approx(0.63, abs=0.05)
    assert standing.next is not None and standing.next.do is ActionKind.MOVE
    assert standing.next.amount is not None and standing.next.amount > 1.2 * 15.2e-4
    assert "Go 155%" in standing.next.why


def test_a_move_too_small_for_a_hand_is_not_advised() -> None:
    """A feeler of 0.0015 in at a radius of 18 in is 8.3e-5 rad."""
    runs = tuple(five_cut(i, 6e-5) for i in range(9))
    standing = of(History(runs), at=8, limits={FENCE: ToleranceLimits.within(1e-5)})
    assert standing.decision is Conformity.PROVEN_OUT and standing.next is not None
    assert standing.next.do is ActionKind.LEAVE
    tiny = tuple(five_cut(i, 2.5e-5) for i in range(30))
    settled = of(History(tiny), at=30, limits={"fence-angle": ToleranceLimits.within(1e-6)})
    assert (
        settled.next is not None and settled.next.do is ActionKind.LEAVE and "Locking moves it more" in settled.next.why
    )


def test_a_move_below_the_step_of_two_feelers_is_left_with_its_size() -> None:
    """Two leaves differ by 0.0005 in at the least: at a screw 3 in from the pivot half of that is 8.3e-5 rad."""
    runs = tuple(five_cut(i, 8.5e-5) for i in range(12))
    near = replace(SHOP, fixtures=(Fixture("sled", "crosscut-sled", {"radius": 76.2}),))
    (standing,) = standings(History(runs), hour(12), shop=near, limits={FENCE: ToleranceLimits.within(3e-5)})
    assert standing.next is not None and standing.next.do is ActionKind.LEAVE
    assert "0.0002 in at the screw" in standing.next.why and "less than a hand can make" in standing.next.why


def test_feelers_are_exchanged_for_a_move_below_the_thinnest() -> None:
    """0.0014 in at the screw: no leaf is so thin, but two of them differ by 0.0015 in."""
    runs = tuple(five_cut(i, 8.5e-5) for i in range(12))
    standing = of(History(runs), at=12, limits={FENCE: ToleranceLimits.within(3e-5)})
    assert standing.next is not None and standing.next.do is ActionKind.MOVE
    assert "0.0015 in at the screw" in standing.next.text


def test_a_response_that_is_as_told_needs_no_words_of_holding_back() -> None:
    runs = (five_cut(0, 20e-4), five_cut(1, 20e-4), five_cut(3, 10e-4), five_cut(4, 10e-4))
    standing = of(History(runs, (moved(2, 10e-4),)), at=4)
    assert standing.next is not None and "land as made" in standing.next.why


def test_another_adjustable_feature_is_followed_too() -> None:
    x = UncertainValue.of(4e-3, ErrorSource("reading:gap@", "feelers", 1e-4))
    run = Result(hour(0), "saw.bevel@0", "rad", x, "tilt-90", "r")
    standing = of(History((run,)), "saw.bevel@0", 0)
    assert standing.next is not None and standing.next.do is ActionKind.MOVE
    assert standing.next.direction == "away" and standing.next.text.startswith(
        "Tilt the top of the blade away from the keeper, 0.210°"
    )


def test_what_an_event_threw_is_turned_and_not_repeated() -> None:
    runs = (five_cut(0, 0.1e-4), five_cut(1, 0.1e-4), five_cut(3, 7e-4))
    standing = of(History(runs, (), (happened(2, "saw-carried"),)), at=3)
    assert standing.next is not None and standing.next.do is ActionKind.MOVE


def test_what_nobody_told_of_is_measured_again() -> None:
    """Nothing was told: a third run far from two that agree is set aside until one more shows which is right."""
    runs = (five_cut(0, 0.1e-4), five_cut(1, 0.1e-4), five_cut(3, 30e-4))
    standing = of(History(runs), at=3)
    assert standing.next is not None and standing.next.do is ActionKind.MEASURE and "disagree" in standing.next.why


def test_near_its_limit_it_is_turned_and_not_run_for_ever() -> None:
    """Runs take 15 minutes each and seldom prove what lies near the limit; a move takes 5 and a run."""
    pair = (five_cut(0, 2.0e-4), five_cut(1, 2.0e-4))
    near = of(History(pair), at=1)
    assert near.decision is Conformity.NOT_PROVEN and near.next is not None
    assert near.next.do is ActionKind.MOVE and "near its limit" in near.next.why


def test_nothing_is_turned_while_the_side_is_not_known() -> None:
    """More than one in twenty that it lies on the other side: a move would be made on noise."""
    standing = of(History((five_cut(0, 2.9e-4), replace(five_cut(1, -0.9e-4), right=True))), at=1)
    assert standing.decision is Conformity.NOT_PROVEN and standing.next is not None
    assert standing.next.do is ActionKind.MEASURE


def test_what_lies_at_its_limit_is_not_measured_for_ever() -> None:
    runs = tuple(five_cut(i, 1.8e-4) for i in range(3))
    assert of(History(runs[:2]), at=2).decision is Conformity.NOT_PROVEN
    standing = of(History(runs), at=2)
    assert standing.decision is Conformity.NOT_PROVEN and standing.next is not None
    assert standing.next.do is ActionKind.MOVE


def test_what_no_move_betters_is_run_again_while_that_may_tell_in_a_day() -> None:
    """A move would gain less than a settling; whether runs are worth it depends on how many it takes."""
    some, many = (
        of(
            History(tuple(five_cut(i / 2, at) for i in range(6))),
            at=3,
            limits={FENCE: ToleranceLimits.within(2.0 * at)},
        )
        for at in (3e-5, 0.5e-5)
    )
    assert some.decision is many.decision is Conformity.NOT_PROVEN
    assert some.next is not None and some.next.do is ActionKind.MEASURE
    assert many.next is not None and many.next.do is ActionKind.LEAVE


def test_time_makes_it_less_sure() -> None:
    history = History((five_cut(0, 0.2e-4), five_cut(1, 0.1e-4)))
    widths = [of(history, at=24.0 * days).x.u for days in (1, 30, 400)]
    assert widths == sorted(widths) and widths[2] > widths[0]
    assert of(history, at=24.0 * 2000).decision is Conformity.NOT_PROVEN


def test_offset_and_slope_keep_their_covariance() -> None:
    rows = stop_scale(0, 0.089, 0.00001, u=0.01)
    offset, slope = (of(History(rows), name, 0) for name in (OFFSET, SLOPE))
    assert covariance(offset.x, slope.x) == pytest.approx(covariance(rows[0].x, rows[1].x), rel=1e-9)
    assert offset.next is not None and slope.decision is Conformity.PROVEN_IN  # no scatter between runs to show


def test_two_runs_of_a_scale_are_pooled_and_an_event_begins_anew() -> None:
    one, two = stop_scale(0, 0.10, 0.0001), stop_scale(2, 0.08, 0.0001)
    both = of(History((*one, *two)), OFFSET, 2)
    assert both.x.value == pytest.approx(0.09) and both.runs == 2
    event = happened(1, "blade-thinner", "blade")
    after = of(History((*one, *two), (), (event,)), OFFSET, 2)
    assert after.runs == 1 and after.since == hour(2) and after.x.value != pytest.approx(0.09, abs=1e-4)
    slope = of(History((*one, *two), (), (event,)), SLOPE, 2)
    assert slope.runs == 2  # a blade changes nothing of the tape
    stale = of(History(one, (), (event,)), OFFSET, 2)
    assert stale.stale == ("New blade, thinner kerf",) and stale.x.u > 0.6
    assert stale.next is not None and stale.next.do is ActionKind.MEASURE


def test_a_scale_offset_alone_has_no_slope_to_go_with() -> None:
    rows = stop_scale(0, 0.089, 0.0002)[:1]
    assert of(History(rows), OFFSET, 0).x.value == 0.089


def test_a_kerf_has_nothing_to_decide_but_goes_stale() -> None:
    standing = of(History((kerf(0), kerf(1, 2.46))), "blade.kerf", 1)
    assert standing.decision is None and standing.next is None and standing.x.value == pytest.approx(2.45)
    stale = of(History((kerf(0),), (), (happened(1, "blade-same-kerf"),)), "blade.kerf", 2)
    assert stale.stale and stale.next is not None and stale.next.check == "kerf"


def test_a_repeat_is_judged_by_chi_square() -> None:
    """s = 0.02 mm with 4 degrees of freedom against 0.0381: P(chi2_4 > 4 (0.02 / 0.0381)^2), by a reference library."""
    x = UncertainValue.of(0.02, ErrorSource("parts:scatter", "few parts", 0.02 / math.sqrt(8.0), 4.0))
    run = Result(hour(0), "sled.stop-repeat", "mm", x, "stop-repeat", "r", ToleranceLimits(None, 0.0381))
    standing = of(History((run,)), "sled.stop-repeat", 0)
    assert standing.chance_in == pytest.approx(float(chi2.sf(4 * (0.02 / 0.0381) ** 2, 4)), abs=1e-6)


def test_a_feature_of_a_person_s_own_check_stands_too() -> None:
    x = UncertainValue.of(3.0, ErrorSource("reading:a@", "a", 0.1))
    run = Result(hour(0), "sled.own-gap", "mm", x, "own-check", "r", ToleranceLimits.within(1.0))
    standing = of(History((run,)), "sled.own-gap", 0)
    assert standing.decision is Conformity.PROVEN_OUT and standing.next is not None
    assert standing.next.do is ActionKind.LOOK and standing.next.check == "own-check"


def test_tolerances_of_the_person_come_first() -> None:
    history = History((five_cut(0, 5e-4),))
    assert of(history, limits={FENCE: ToleranceLimits.within(2e-3)}).limits == ToleranceLimits.within(2e-3)
    assert of(history, limits={"fence-angle": ToleranceLimits.within(1e-3)}).limits == ToleranceLimits.within(1e-3)
    bare = History((replace(five_cut(0, 5e-4), limits=None),))
    assert of(bare).limits == ToleranceLimits.within(2e-4)  # common practice


def test_a_start_that_the_check_declares_is_taken() -> None:
    wide = of(History((five_cut(0, 3e-4),)), at=0, starts={"five-cut": EstimatedSd(2e-4, 4)})
    assert wide.x.u == pytest.approx(math.hypot(2e-4, 3e-5))


def test_without_a_shop_the_move_is_a_slope() -> None:
    (standing,) = standings(History((five_cut(0, 5e-4),)), hour(0))
    assert standing.next is not None and "0.0055 in/ft" in standing.next.text
    assert "screw" not in standing.next.text


runs_of = st.lists(
    st.tuples(st.sampled_from(["run", "open", "close", "saw-carried", "facing-renewed"]), st.floats(-8e-4, 8e-4)),
    min_size=1,
    max_size=9,
)


def _history(story: list[tuple[str, float]]) -> History:
    observed, moves, events = [], [], []
    for n, (what, size) in enumerate(story):
        if what == "run":
            observed.append(five_cut(n, size))
        elif what in ("open", "close"):
            moves.append(moved(n, abs(size), what))
        else:
            events.append(happened(n, what))
    return History(tuple(observed), tuple(moves), tuple(events))


@settings(max_examples=60)
@given(runs_of, st.randoms(use_true_random=False))
def test_the_order_of_arrival_changes_nothing(story: list[tuple[str, float]], random: object) -> None:
    history = _history(story)
    rows = [list(history.observed), list(history.moved), list(history.happened)]
    for some in rows:
        random.shuffle(some)  # type: ignore[attr-defined]
    assert standings(History(*(tuple(r) for r in rows)), hour(50)) == standings(history, hour(50))


@settings(max_examples=60)
@given(runs_of, st.integers(0, 8), st.floats(-8e-4, 8e-4))
def test_superseding_is_never_having_typed(story: list[tuple[str, float]], which: int, wrong: float) -> None:
    history = _history(story)
    if not history.observed:
        assert standings(history, hour(50)) == ()
        return
    right = history.observed[which % len(history.observed)]
    slip = replace(right, run="slip", x=UncertainValue(wrong, right.x.parts), at=right.at - timedelta(minutes=5))
    corrected = replace(right, supersedes="slip")
    rows = tuple(corrected if row == right else row for row in history.observed)
    typed = standings(History((*rows, slip), history.moved, history.happened), hour(50))
    assert typed == standings(history, hour(50))


@settings(max_examples=60)
@given(runs_of)
def test_every_standing_can_stand_behind_its_number(story: list[tuple[str, float]]) -> None:
    for standing in standings(_history(story), hour(20), shop=SHOP):
        assert math.isfinite(standing.x.value) and standing.x.u > 0.0
        assert standing.chance_in is not None and 0.0 <= standing.chance_in <= 1.0
        assert standing.next is not None and standing.next.text
        if standing.stale:
            assert standing.decision is Conformity.NOT_PROVEN
            assert standing.next.do is ActionKind.MEASURE or standing.asked is not None
        if standing.next.do is ActionKind.MOVE:
            assert standing.next.amount is not None and standing.next.amount > 0.0
            assert standing.next.direction in ("open", "close")
