"""A run whose own readings speak against it: kept, not believed, and no right run is set aside because of it."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.standing.rows import FENCE, five_cut, happened, hour, kerf, moved

from trued.advice.statuses import standings, standings_of
from trued.measure.decision import Conformity, Side, ToleranceLimits
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.filtered.filtered_feature import EARLIER
from trued.standing.history.history import Adjustment, Answered, History, Result, ShopEvent
from trued.standing.learned.learned_state import LearnedState, fold_history
from trued.standing.learned.outlier_history import WAITS, ever_aside
from trued.standing.learned.state_codec import decode, encode

DOUBT = (("ends-disagree", "The two ends differ by more than a fifth."),)
JAMS = (("knife-jams", "The work jams on the knife: no cut."),)
TOE = "saw.rip-toe"


def bad(n: float, x: float) -> Result:
    return replace(five_cut(n, x), doubts=DOUBT)


def toe(n: float, x: float, **more: object) -> Result:
    value = UncertainValue.of(x, ErrorSource("reading:far_end@", "dial: repeat of a reading", 0.01, 10))
    row = Result(hour(n), TOE, "mm", value, "rip-fence", f"toe-{n:g}", ToleranceLimits(0.0, 0.0762))
    return replace(row, **more)  # type: ignore[arg-type]


def all_of(
    *runs: Result, moves: tuple[Adjustment, ...] = (), events: tuple[ShopEvent, ...] = ()
) -> dict[str, FeatureStatus]:
    return {s.feature: s for s in standings(History(runs, moves, events), hour(50))}


def test_of_one_run_that_is_in_doubt_nothing_is_believed() -> None:
    fence = all_of(bad(0, 5e-3))[FENCE]
    assert not fence.confirmed and not fence.believed and fence.unread == "run-0"
    assert fence.decision is Conformity.NOT_PROVEN and fence.chance_in is None
    assert fence.next is not None and fence.next.do is ActionKind.MEASURE and fence.next.amount is None
    assert fence.next.text.startswith("Run five-cut again, same setup")
    assert fence.next.why == "The two ends differ by more than a fifth."


def test_a_right_run_after_it_counts_alone_and_is_not_set_aside() -> None:
    alone, after = all_of(five_cut(1, 3e-4))[FENCE], all_of(bad(0, 5e-3), five_cut(1, 3e-4))[FENCE]
    assert replace(after, next=None) == replace(alone, next=None) and after.next == alone.next
    assert after.confirmed and after.set_aside == ()
    assert ever_aside(History((bad(0, 5e-3), five_cut(1, 3e-4))), FENCE) == {"run-0": WAITS}


def test_a_second_run_that_agrees_brings_it_in() -> None:
    both = all_of(bad(0, 3.0e-4), five_cut(1, 3.3e-4))[FENCE]
    assert both == all_of(five_cut(0, 3.0e-4), five_cut(1, 3.3e-4))[FENCE]
    assert both.runs == 2 and both.confirmed
    twice = all_of(bad(0, 3.0e-4), bad(1, 3.3e-4))[FENCE]  # the same fuzz on both strips
    assert twice.runs == 2 and twice.confirmed
    assert ever_aside(History((bad(0, 3e-4), bad(1, 3.3e-4))), FENCE) == {}


def test_it_takes_the_order_from_the_runs_before_it() -> None:
    """What was out by a good run is not turned while a newer run is in doubt."""
    before = all_of(five_cut(0, 6e-4))[FENCE]
    assert before.next is not None and before.next.do is ActionKind.MOVE
    after = all_of(five_cut(0, 6e-4), bad(1, 1e-4))[FENCE]
    assert after.x.value == before.x.value and not after.confirmed and after.believed
    assert after.next is not None and after.next.do is ActionKind.MEASURE and after.next.direction == ""
    assert after.decision is Conformity.NOT_PROVEN


@pytest.mark.parametrize("touched", [moved(0.5, 1e-4), happened(0.5, "screw-touched")])
def test_what_was_touched_since_confirms_nothing(touched: Adjustment | ShopEvent) -> None:
    moves = (touched,) if isinstance(touched, Adjustment) else ()
    events = (touched,) if isinstance(touched, ShopEvent) else ()
    fence = all_of(bad(0, 3e-4), five_cut(1, 3e-4), moves=moves, events=events)[FENCE]
    assert fence.runs == 1 and fence.since == hour(1)


def test_all_that_both_runs_found_must_agree() -> None:
    """One toe that agrees does not bring in the other features of its run."""
    other = replace(toe(0, 0.03, doubts=DOUBT), feature="saw.rip-straight", limits=ToleranceLimits.within(0.076))
    second = replace(toe(1, 0.03), feature="saw.rip-straight", limits=ToleranceLimits.within(0.076))
    far = replace(second, x=UncertainValue(0.9, second.x.parts))
    close = all_of(toe(0, 0.03, doubts=DOUBT), other, toe(1, 0.031), second)
    apart = all_of(toe(0, 0.03, doubts=DOUBT), other, toe(1, 0.031), far)
    assert close[TOE].runs == 2 and apart[TOE].runs == 1 and apart["saw.rip-straight"].runs == 1


def test_where_someone_can_get_hurt_it_may_close_and_never_open() -> None:
    alone = all_of(toe(0, -0.3, doubts=DOUBT))[TOE]
    assert alone.decision is Conformity.PROVEN_OUT and alone.side is Side.BELOW and not alone.believed
    assert alone.next is not None and alone.next.do is ActionKind.MEASURE
    after_in = all_of(toe(0, 0.04), toe(1, 0.04), toe(2, -0.3, doubts=DOUBT))[TOE]
    assert after_in.decision is Conformity.PROVEN_OUT
    after_out = all_of(toe(0, -0.3), toe(1, 0.04, doubts=DOUBT))[TOE]
    assert after_out.decision is Conformity.PROVEN_OUT and after_out.side is Side.BELOW
    assert after_out.next is not None and after_out.next.do is ActionKind.MEASURE
    only_good = all_of(toe(0, 0.04, doubts=DOUBT))[TOE]
    assert only_good.decision is Conformity.NOT_PROVEN


def test_what_is_dangerous_counts_at_once_whatever_was_measured() -> None:
    for row in (toe(0, 0.04, dangers=JAMS), toe(0, 0.04, dangers=JAMS, doubts=DOUBT)):
        found = all_of(row)[TOE]
        assert found.decision is Conformity.PROVEN_OUT and found.dangers == ("The work jams on the knife: no cut.",)
        assert found.next is not None and found.next.do is ActionKind.LOOK
        assert found.next.text == "The work jams on the knife: no cut. Then run rip-fence again."
    mended = all_of(toe(0, 0.04, dangers=JAMS), toe(1, 0.04))[TOE]
    assert mended.dangers == () and mended.decision is Conformity.PROVEN_IN


def test_one_kerf_far_from_another_is_not_averaged_into_a_sharp_value() -> None:
    """0.1025 in and a slip of the finger, 0.1850 in: 58 deviations apart."""
    one, slip = kerf(0, 0.1025 * 25.4), kerf(1, 0.1850 * 25.4)
    blade = all_of(one, slip)["blade.kerf"]
    assert blade.x.value == one.x.value and blade.x.u == one.x.u
    assert (
        blade.unread == "kerf-1" and blade.next is not None and blade.next.text.startswith("Run kerf again, same setup")
    )
    assert blade.next.why == "It lies far from the run before it, with nothing touched between."
    assert ever_aside(History((one, slip)), "blade.kerf") == {"kerf-1": EARLIER}
    third = all_of(one, slip, kerf(2, 0.1030 * 25.4))["blade.kerf"]
    assert ever_aside(History((one, slip, kerf(2, 0.1030 * 25.4))), "blade.kerf") == {"kerf-1": EARLIER}
    assert third.runs == 2 and third.confirmed and third.x.value == pytest.approx(0.10275 * 25.4, abs=1e-3)


def answered(run: str) -> tuple[Answered, ...]:
    return (Answered(hour(30), run, "confirm", "yes", "answer-1"),)


def test_a_run_that_the_person_confirms_counts_against_what_was_found_before() -> None:
    """The fence far from where it was, and a kerf that another blade explains: something was done that nobody told."""
    runs = (five_cut(0, 1e-5), five_cut(1, 2e-5), five_cut(2, 9e-3))
    before = all_of(*runs)[FENCE]
    assert before.x.value < 1e-4
    (after,) = standings(History(runs, answered=answered("run-2")), hour(50))
    assert after.x.value == pytest.approx(9e-3) and after.runs == 1 and after.confirmed
    blades = (kerf(0, 2.6), kerf(1, 1.9))
    (blade,) = standings(History(blades, answered=answered("kerf-1")), hour(50))
    assert blade.x.value == 1.9 and blade.confirmed and len(blade.set_aside) == 1
    taken_back = History(
        blades, answered=(*answered("kerf-1"), Answered(hour(31), "kerf-1", "confirm", "no", "no", "answer-1"))
    )
    assert standings(taken_back, hour(50))[0].x.value == 2.6


@given(
    st.lists(st.tuples(st.sampled_from([1e-4, 3e-4, 5e-3]), st.booleans(), st.integers(0, 3)), min_size=1, max_size=8),
    st.integers(0, 8),
)
def test_gone_on_from_what_was_kept_is_the_same(told: list[tuple[float, bool, int]], cut: int) -> None:
    rows: list[Result | Adjustment | ShopEvent] = []
    for n, (x, doubtful, kind) in enumerate(told):
        found: Result = bad(n, x) if doubtful else five_cut(n, x)
        rows.append((found, found, moved(n, 1e-4), happened(n, "screw-touched"))[kind])
    kept = encode(LearnedState().take_all(rows[:cut]))
    after, whole = decode(kept).take_all(rows[cut:]), LearnedState().take_all(rows)
    assert standings_of(after, hour(20)) == standings_of(whole, hour(20))


@given(st.lists(st.tuples(st.floats(-1e-3, 1e-3), st.booleans()), min_size=1, max_size=6))
def test_a_doubtful_newest_run_orders_no_move(told: list[tuple[float, bool]]) -> None:
    runs = [bad(n, x) if doubtful else five_cut(n, x) for n, (x, doubtful) in enumerate(told)]
    known = fold_history(History(tuple(runs)))
    (fence,) = standings_of(known, hour(20))
    if not fence.confirmed:
        assert fence.next is not None and fence.next.direction == "" and fence.decision is not Conformity.PROVEN_IN
        assert fence.next.do is ActionKind.MEASURE or fence.asked is not None
