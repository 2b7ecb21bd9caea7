"""One cursor, one correction: all that was cut against a stop counts together, whichever check it was for."""

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from tests.worlds.stop import Stop

from trued.advice.statuses import standings
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, Shape, UncertainValue
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.history.history import Adjustment, History, Result, Row, ShopEvent
from trued.standing.stop_history import StopLog
from trued.standing.stop_model import Cuts, Presumed

INCH, MIL = 25.4, 0.0254
AT = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)
LIMIT = ErrorSource("limit:caliper", "caliper: limit of error", 0.02 / math.sqrt(3.0), shape=Shape.RECTANGULAR)
OFFSET, SLOPE, SETTING = "sled.stop-offset@0", "sled.stop-slope@0", "sled.stop-setting"


def cuts(reading: float, *offs: float) -> Cuts:
    """Parts of one setting, what they are off; inches."""
    return Cuts(reading * INCH, tuple(off * INCH for off in offs), 0.025, LIMIT)


def found(hour: float, check: str, *settings: Cuts, angle: str = "0") -> Result:
    mean = math.fsum(one.mean_mm for one in settings) / len(settings)
    x = UncertainValue.of(mean, ErrorSource("part:height", "setting the stop", 0.1))
    name = f"sled.stop-offset@{angle}"
    limits = ToleranceLimits.within(5 * MIL)
    return Result(AT + timedelta(hours=hour), name, "mm", x, check, f"run-{hour:g}", limits, cuts=settings)


def stand(*rows: Row, at: float = 100.0) -> dict[str, FeatureStatus]:
    observed = tuple(row for row in rows if isinstance(row, Result))
    moved = tuple(row for row in rows if isinstance(row, Adjustment))
    happened = tuple(row for row in rows if isinstance(row, ShopEvent))
    return {s.feature: s for s in standings(History(observed, moved, happened), AT + timedelta(hours=at))}


def moved(hour: float, mm: float, direction: str = "shorter", feature: str = OFFSET) -> Adjustment:
    return Adjustment(AT + timedelta(hours=hour), feature, mm, direction, "", f"move-{hour:g}")


SCALE = (cuts(6, 0.031), cuts(12, 0.028), cuts(24, 0.033), cuts(18, 0.030))
REPEAT = (cuts(12, 0.030, 0.031, 0.030, 0.031, 0.030), cuts(12, 0.033), cuts(12, 0.029), cuts(12, 0.032))


def test_two_checks_of_one_stop_give_one_order() -> None:
    """practitioner 1: stop-repeat ordered 0.0166, stop-scale 0.0124 of the same cursor."""
    now = stand(found(0, "stop-repeat", *REPEAT), found(1, "stop-scale", *SCALE))
    orders = [s for s in now.values() if s.next is not None and s.next.do is ActionKind.MOVE]
    assert [s.feature for s in orders] == [OFFSET]
    assert orders[0].next is not None and orders[0].next.amount == pytest.approx(0.0305 * INCH, abs=0.002 * INCH)
    assert "stop-shift" not in " ".join(now)


@pytest.mark.parametrize("first", ["stop-repeat", "stop-scale"])
def test_the_order_of_the_checks_changes_nothing(first: str) -> None:
    one, two = found(0, "stop-repeat", *REPEAT), found(1, "stop-scale", *SCALE)
    if first == "stop-scale":
        one, two = found(1, "stop-repeat", *REPEAT), found(0, "stop-scale", *SCALE)
    x = stand(one, two)[OFFSET].x
    assert x.value == pytest.approx(
        stand(found(0, "stop-repeat", *REPEAT), found(1, "stop-scale", *SCALE))[OFFSET].x.value, abs=1e-3
    )


def test_setting_less_is_not_offered_as_something_to_record() -> None:
    step = stand(found(0, "stop-repeat", *REPEAT), found(1, "stop-scale", *SCALE))[OFFSET].next
    assert step is not None and step.direction == "shorter"
    assert not step.text.startswith("Set") and "move the cursor" in step.text and "the plan subtracts it" in step.text


def test_a_recorded_move_is_taken_off_every_later_setting() -> None:
    before = stand(found(0, "stop-scale", *SCALE))
    after = stand(found(0, "stop-scale", *SCALE), moved(1, 0.030 * INCH))
    assert after[OFFSET].x.value == pytest.approx(before[OFFSET].x.value - 0.030 * INCH, abs=1e-9)
    assert after[OFFSET].x.u > before[OFFSET].x.u  # the eye that brought the cursor there
    assert after[SLOPE].x.value == pytest.approx(before[SLOPE].x.value, abs=1e-9)  # a cursor mends no tape
    step = after[OFFSET].next
    assert step is not None and step.do is ActionKind.MEASURE


def test_a_cursor_moved_at_one_angle_is_moved_at_every_angle() -> None:
    rows = (found(0, "stop-scale", *SCALE), found(1, "stop-scale", cuts(12, 0.05), cuts(18, 0.05), angle="45"))
    at_45 = "sled.stop-offset@45"
    before, after = stand(*rows)[at_45], stand(*rows, moved(2, 0.5))[at_45]
    assert after.x.value == pytest.approx(before.x.value - 0.5, abs=1e-9)
    assert after.next is not None and after.next.do is ActionKind.MEASURE


def test_only_the_square_cut_orders_the_cursor() -> None:
    rows = [found(n, "stop-scale", *SCALE, angle=angle) for n, angle in enumerate(("0", "45"))]
    now = stand(*rows)
    assert [f for f, s in now.items() if s.next is not None and s.next.do is ActionKind.MOVE] == [OFFSET]


def test_the_scatter_of_setting_anew_is_learnt_and_outlives_a_move() -> None:
    steady = [found(n, "stop-repeat", *(cuts(12, 0.02, 0.0201) for _ in range(6))) for n in range(3)]
    loose = [
        found(n, "stop-repeat", *(cuts(12, x, x + 1e-4) for x in (0.0, 0.02, 0.04, 0.01, 0.05, 0.03))) for n in range(3)
    ]
    tight, wide = stand(*steady)[SETTING].x.value, stand(*loose)[SETTING].x.value
    assert tight < 0.003 * INCH < 0.012 * INCH < wide
    assert stand(*loose, moved(50, 0.5))[SETTING].x.value == pytest.approx(wide, rel=1e-9)


def test_it_is_learnt_as_a_reference_library_reckons_it() -> None:
    """At one reading with exact parts: (4 of 0.005 in, and the contrasts of the settings) make the scatter."""
    offs = (0.010, 0.016, 0.007, 0.013, 0.011)
    now = (
        StopLog()
        .with_parts(AT, "0", "r", [cuts(12, off) for off in offs])
        .now(AT, Presumed(slope=0.0, each=EstimatedSd(1e-6, 1e9)))
    )
    sd = float(np.std(offs, ddof=1)) * INCH
    assert now.setting.dof == pytest.approx(4 + 4, abs=0.15)
    assert now.setting.s == pytest.approx(math.sqrt((4 * (5 * MIL) ** 2 + 4 * sd**2) / 8), rel=0.02)


def test_a_slip_among_mates_teaches_nothing() -> None:
    fair = StopLog().with_parts(AT, "0", "r", [cuts(12, 0.020, 0.021, 0.019)])
    one = StopLog().with_parts(AT, "0", "r", [cuts(12, 0.020, 0.021, 0.019, -0.105)])
    a, b = (log.now(AT).scales["0"][0] for log in (fair, one))
    assert b.value == pytest.approx(a.value, abs=0.05 * a.u)
    assert one.now(AT).judged[0].slips == (3,)


def test_a_lone_part_far_off_teaches_nothing_and_a_second_setting_that_agrees_does() -> None:
    alone = StopLog().with_parts(AT, "0", "a", [cuts(12, -0.125)])
    assert "0" not in alone.now(AT).scales and alone.now(AT).judged[0].slips == (0,)
    again = alone.with_parts(AT, "0", "b", [cuts(12, -0.121)]).with_parts(AT, "0", "c", [cuts(18, -0.127)])
    assert again.now(AT).scales["0"][0].value == pytest.approx(-0.1243 * INCH, abs=0.004 * INCH)
    assert not any(one.slips for one in again.now(AT).judged)


def test_a_lone_part_in_between_is_wanted_twice() -> None:
    judged = [StopLog().with_parts(AT, "0", "a", [cuts(12, off)]).now(AT).judged[0] for off in (0.02, 0.055, 0.125)]
    assert [one.wants_second for one in judged] == [False, True, False]


def test_a_lone_part_on_a_fresh_scale_is_wanted_twice_until_another_setting_agrees() -> None:
    log = StopLog().with_parts(AT, "0", "a", [cuts(12, 0.031)])
    assert log.now(AT).judged[0].alone and not log.now(AT).judged[0].slips
    assert not log.with_parts(AT, "0", "b", [cuts(18, 0.033)]).now(AT).judged[0].alone
    assert not StopLog().with_parts(AT, "0", "a", [cuts(12, 0.008)]).now(AT).judged[0].alone
    known = StopLog().with_parts(AT, "0", "a", [cuts(at, 0.031) for at in (6, 12, 18, 24)])
    assert not known.with_parts(AT, "0", "b", [cuts(12, 0.034)]).now(AT).judged[-1].alone


@pytest.mark.parametrize("off", [0.031, 0.055])  # from nothing known: likelier the scale; not clear at all
def test_a_lone_part_that_is_asked_about_does_not_count_until_it_is_answered(off: float) -> None:
    log = StopLog().with_parts(AT, "0", "a", [cuts(12, off)])
    assert "0" not in log.now(AT).scales
    said = StopLog().with_parts(AT, "0", "a", [cuts(12, off).all_right])
    assert said.now(AT).scales["0"][0].value == pytest.approx(off * INCH, abs=0.001 * INCH)
    again = log.with_parts(AT, "0", "b", [cuts(12, off + 0.002)])
    assert again.now(AT).scales["0"][0].value == pytest.approx((off + 0.001) * INCH, abs=0.002 * INCH)


@pytest.mark.parametrize("wrong", [0.031, 0.060, -0.031])
def test_a_right_second_after_a_mis_cut_one_is_not_asked_about_too(wrong: float) -> None:
    """What waits is no ground on which the next part would look odd."""
    now = StopLog().with_parts(AT, "0", "a", [cuts(12, wrong)]).with_parts(AT, "0", "b", [cuts(12, 0.001)]).now(AT)
    assert [bool(one.doubted) for one in now.judged] == [True, False]
    assert now.scales["0"][0].value == pytest.approx(0.001 * INCH, abs=0.0005 * INCH)


def test_a_lone_part_after_a_move_agrees_with_what_was_found_before_it() -> None:
    """The cursor went by 0.030: a part there that is off by nothing confirms the one before, which was off by 0.030."""
    log = StopLog().with_parts(AT, "0", "a", [cuts(12, 0.030)]).moved(AT, 0.030 * INCH)
    assert log.now(AT).judged[0].alone
    after = log.with_parts(AT, "0", "b", [cuts(12, 0.001)]).now(AT)
    assert not any(one.alone for one in after.judged)
    assert after.scales["0"][0].value == pytest.approx(0.0007 * INCH, abs=0.003 * INCH)


def test_a_copy_that_no_mate_agrees_with_is_wanted_again_and_does_not_count_until_then() -> None:
    """Too near for a slip by 3 in 100 and 1/4 in, and farther than three of the copies' scatter from each mate."""
    mates = StopLog().with_parts(AT, "0", "a", [cuts(12, -0.0175, -0.018)])
    log = StopLog().with_parts(AT, "0", "a", [cuts(12, -0.0175, -0.033, -0.018)])
    now = log.now(AT)
    assert now.judged[0].apart == (1,) and not now.judged[0].slips and now.judged[0].doubted == (1,)
    assert now.scales["0"][0].value == pytest.approx(mates.now(AT).scales["0"][0].value, abs=1e-6)
    right = replace(cuts(12, -0.0175, -0.033, -0.018), right=(1,))
    said = StopLog().with_parts(AT, "0", "a", [right]).now(AT)
    assert not said.judged[0].doubted and said.scales["0"][0].value < now.scales["0"][0].value - 0.002 * INCH


def test_copies_of_a_stop_that_is_known_as_loose_are_not_wanted_again() -> None:
    loose = [cuts(12, 0.0, 0.02, -0.02, 0.01, -0.01), cuts(18, 0.01, -0.015, 0.02, 0.0, -0.02)]
    log = StopLog().with_parts(AT, "0", "a", loose).with_parts(AT, "0", "b", [cuts(12, 0.0, 0.016, -0.001)])
    assert not any(one.apart for one in log.now(AT).judged)


def test_a_part_that_is_named_does_not_count_at_all() -> None:
    """Likelier mis-cut than not, though not by much: it is said that it does not count."""
    mates = StopLog().with_parts(AT, "0", "a", [cuts(12, 0.029, 0.0285)]).now(AT)
    for off in (0.004, 0.006, 0.056):
        now = StopLog().with_parts(AT, "0", "a", [cuts(12, 0.029, 0.0285, off)]).now(AT)
        assert now.judged[0].doubted == (2,)
        assert now.scales["0"][0].value == pytest.approx(mates.scales["0"][0].value, abs=0.0005 * INCH)


def test_a_setting_in_two_lots_teaches_nothing_until_it_is_told() -> None:
    log = StopLog().with_parts(AT, "0", "a", [cuts(12, 0.02), cuts(18, 0.021)])
    two = log.with_parts(AT, "0", "b", [cuts(12, 0.020, 0.021, -0.094, -0.095)])
    assert two.now(AT).judged[2].moved and not two.now(AT).judged[2].slips
    assert two.now(AT).scales["0"][0].value == pytest.approx(log.now(AT).scales["0"][0].value, abs=1e-9)


def test_a_stretched_scale_is_found_for_what_it_is() -> None:
    stop = Stop(stretch=1.003)
    settings = []
    for at in (6, 12, 18, 24):
        stop.set_to(at)
        settings.append(cuts(at, stop.cut() - at))
    offset, slope = StopLog().with_parts(AT, "0", "a", settings).now(AT).scales["0"]
    assert slope.value == pytest.approx(0.003, rel=0.05)
    assert abs(offset.value) < 2 * offset.u


def test_a_scale_that_was_moved_and_not_told_is_no_scatter() -> None:
    """Settings that agree with each other and not with those before: a change, not a stop that does not come back."""
    right = found(0, "stop-repeat", *(cuts(12, x) for x in (0.001, -0.002, 0.002, 0.0)))
    gone = found(5, "stop-repeat", *(cuts(12, x) for x in (0.031, 0.033, 0.029, 0.034)))
    now = stand(right, gone)
    assert now[OFFSET].x.value == pytest.approx(0.0318 * INCH, abs=0.003 * INCH)
    assert now[SETTING].x.value < 0.005 * INCH
    step = now[OFFSET].next
    assert (
        step is not None and step.do is ActionKind.MEASURE and "Did scale, cursor, blade or facing change?" in step.why
    )
    assert now[OFFSET].decision is Conformity.NOT_PROVEN  # one such run orders nothing; a second that agrees does
    again = stand(right, gone, found(6, "stop-repeat", *(cuts(12, x) for x in (0.032, 0.030, 0.033, 0.031))))
    assert again[OFFSET].next is not None and again[OFFSET].next.do is ActionKind.MOVE
    told = stand(right, moved(3, 0.0305 * INCH, "longer"), gone)
    assert told[OFFSET].next is not None and "facing change?" not in told[OFFSET].next.why


def test_a_stop_that_comes_back_elsewhere_is_scatter_and_no_change() -> None:
    loose = [
        found(n, "stop-repeat", *(cuts(12, x + 0.004 * n) for x in (0.0, 0.02, -0.012, 0.03, -0.02))) for n in range(3)
    ]
    now = stand(*loose)
    assert now[SETTING].x.value > 0.012 * INCH
    assert now[OFFSET].next is not None and "facing change?" not in now[OFFSET].next.why


def test_an_event_makes_the_offset_doubtful_by_what_the_table_says() -> None:
    event = ShopEvent(AT + timedelta(hours=2), "scale-moved", "", "event-2")
    before, after = stand(found(0, "stop-scale", *SCALE)), stand(found(0, "stop-scale", *SCALE), event)
    assert after[OFFSET].x.u == pytest.approx(math.hypot(before[OFFSET].x.u, 40 * MIL), rel=0.02)
    assert after[OFFSET].stale and not after[SLOPE].stale


def test_what_one_setting_hides_is_not_measured_for_ever() -> None:
    rows = [found(n, "stop-scale", cuts(6, 0.004), cuts(12, 0.006), cuts(24, 0.010)) for n in range(2)]
    few, more = stand(rows[0])[OFFSET].next, stand(*rows)[OFFSET].next
    assert few is not None and few.do is ActionKind.MEASURE and "Set the stop again for each part" in few.text
    assert more is not None and more.do is ActionKind.LEAVE and "measure the first part" in more.text
