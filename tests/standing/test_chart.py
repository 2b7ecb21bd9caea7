"""The chart of a feature's history: nothing left out, and signals that say what they are."""

import numpy as np
import pytest
from tests.standing.rows import FENCE, five_cut, happened, kerf, moved

from trued.drawing.shapes import Arrow, Label, Line, Path
from trued.equipment.file.read_shop import read_shop
from trued.measure.decision import ToleranceLimits
from trued.standing.charts.chart import MOST, history_drawing, history_signals
from trued.standing.charts.chart_signals import FEWEST, untouched
from trued.standing.history.history import History, Result

LIMITS = ToleranceLimits.within(2e-4)


def _runs(values: list[float], start: float = 0.0) -> tuple[Result, ...]:
    return tuple(five_cut(start + 24.0 * i, v) for i, v in enumerate(values))


def test_a_run_that_waits_to_be_confirmed_is_no_signal() -> None:
    history = History(_runs([1e-5, -1e-5, 0.0, 2e-5, 3.5e-4]))
    assert history_signals(history, FENCE)
    assert history_signals(history, FENCE, unread=[history.observed[-1].run]) == ()


def test_every_finding_move_and_event_is_drawn() -> None:
    history = History((five_cut(0, 5e-4), five_cut(2, 1e-4)), (moved(1, 4e-4),), (happened(3, "saw-carried"),))
    drawing = history_drawing(history, FENCE, LIMITS)
    found = [s for s in drawing.shapes if isinstance(s, Path) and s.role == "found"]
    assert len(found) == 2
    arrows = [s for s in drawing.shapes if isinstance(s, Arrow) and s.role == "move"]
    assert len(arrows) == 1 and arrows[0].end[1] < arrows[0].start[1]  # opening lowers
    assert any(isinstance(s, Label) and s.text == "A" for s in drawing.shapes)
    assert "2 findings, 1 move and 1 event;" in drawing.told and "A: Saw moved, dropped or re-clamped" in drawing.told
    assert sum(isinstance(s, Line) and s.role == "limit" for s in drawing.shapes) == 2


def test_heights_keep_sign_and_proportion() -> None:
    drawing = history_drawing(History((five_cut(0, 4e-4), five_cut(1, -2e-4))), FENCE)
    one, two = [s for s in drawing.shapes if isinstance(s, Path)]
    centre = [sum(y for _, y in path.points) / 4 for path in (one, two)]
    assert centre[0] == pytest.approx(-2.0 * centre[1]) and centre[0] > 0.0


def test_what_was_set_aside_looks_it() -> None:
    drawing = history_drawing(History((five_cut(0, 4e-4), five_cut(1, 3e-3))), FENCE, aside=("run-1",))
    assert [s.role for s in drawing.shapes if isinstance(s, Path)] == ["found", "before"]


def test_a_long_history_shows_its_newest() -> None:
    history = History(tuple(five_cut(i, 1e-4) for i in range(MOST + 40)))
    assert f"{MOST} findings" in history_drawing(history, FENCE).told
    many = tuple(happened(100 + i, "saw-carried") for i in range(40))
    assert "A1: " in history_drawing(History((five_cut(0, 1e-4),), (), many), FENCE).told


def test_no_finding_no_drawing() -> None:
    with pytest.raises(ValueError, match="never found"):
        history_drawing(History(), FENCE)


def test_steady_findings_give_no_signal() -> None:
    """Over 300 steady stretches of 12 findings hardly one in ten signals: a false alarm is rare, not common."""
    rng = np.random.default_rng(6)
    told = [history_signals(History(_runs([float(x) for x in rng.normal(0, 5.8e-5, 12)])), FENCE) for _ in range(300)]
    assert sum(bool(t) for t in told) < 30


def test_a_creep_is_told_with_its_beginning() -> None:
    rng = np.random.default_rng(2)
    values = [float(x) for x in rng.normal(0, 4e-5, 6)] + [1.0e-4, 1.3e-4, 1.5e-4, 1.8e-4, 2.0e-4, 2.2e-4]
    told = history_signals(History(_runs(values)), FENCE)
    assert any("crept up" in t and "CUSUM" in t for t in told)
    down = history_signals(History(_runs([-v for v in values])), FENCE)
    assert any("crept down" in t for t in down)


def test_one_far_finding_is_told() -> None:
    told = history_signals(History(_runs([1e-5, -1e-5, 0.0, 2e-5, 3.5e-4])), FENCE)
    assert any("individuals chart" in t and "2026-03-06" in t for t in told)


def test_a_running_mean_that_went_off_is_told() -> None:
    told = history_signals(History(_runs([0.0, 0.0, 0.0, 0.0, 1.9e-4, 1.8e-4, 2.0e-4])), FENCE)
    assert any("EWMA" in t for t in told)


def test_only_what_was_found_since_it_was_touched_counts() -> None:
    history = History((*_runs([0.0, 1e-5, 5e-4]), *_runs([9e-4], 200)), (moved(100, 1e-4),))
    assert len(untouched(history.of(FENCE))) == 1 < FEWEST
    assert history_signals(history, FENCE) == ()


def test_an_arrow_goes_from_where_it_was_to_where_it_was_told_to_go() -> None:
    """By hand: found at 5e-4, opened by 4e-4, then closed by 1e-4: 5, 1 and 2 of 1e-4, on the scale of the finding."""
    history = History((five_cut(0, 5e-4),), (moved(1, 4e-4), moved(2, 1e-4, "close")))
    shapes = history_drawing(history, FENCE, LIMITS).shapes
    (path,) = [s for s in shapes if isinstance(s, Path) and s.role == "found"]
    unit = sum(y for _, y in path.points) / 4 / 5.0
    one, two = [s for s in shapes if isinstance(s, Arrow)]
    assert [one.start[1], one.end[1], two.start[1], two.end[1]] == pytest.approx([5 * unit, unit, unit, 2 * unit])


def test_nothing_is_drawn_beyond_its_frame() -> None:
    history = History((five_cut(0, 9e-4), five_cut(1, -8e-4)), (moved(0.5, 3e-3),), (happened(2, "saw-carried"),))
    shapes = history_drawing(history, FENCE, LIMITS).shapes
    (side,) = [s for s in shapes if isinstance(s, Line) and s.role == "axis" and s.start[0] == s.end[0]]
    low, high = sorted((side.start[1], side.end[1]))
    heights = [end[1] for s in shapes if isinstance(s, Line | Arrow) for end in (s.start, s.end)]
    assert low <= min(heights) and max(heights) <= high


def test_a_size_without_a_right_value_has_no_zero_and_says_how_large_it_is() -> None:
    drawing = history_drawing(History((kerf(0), kerf(30, 2.5))), "blade.kerf")
    assert not [s for s in drawing.shapes if isinstance(s, Line) and s.role in ("true", "limit")]
    assert "0.0984 in" in [s.text for s in drawing.shapes if isinstance(s, Label)]  # 2.5 mm / 25.4
    assert "1 move" not in drawing.told and "last finding was 0.0984 in" in drawing.told


def test_limits_say_their_size_and_one_day_is_told_once() -> None:
    told = [
        s.text for s in history_drawing(History((five_cut(0, 1e-4),)), FENCE, LIMITS).shapes if isinstance(s, Label)
    ]
    assert told.count("2026-03-02") == 1
    assert {"limit +0.0024 in/ft", "limit -0.0024 in/ft"} <= set(told)  # 2e-4 rad times 12 in


def test_many_events_after_the_last_finding_leave_it_in_the_drawing() -> None:
    many = tuple(happened(100 + i, "saw-carried") for i in range(2 * MOST))
    assert "1 finding and 59 events;" in history_drawing(History((five_cut(0, 1e-4),), (), many), FENCE).told
    newest = history_drawing(History((five_cut(0, 1e-4),), (moved(3000, 1e-4),), many), FENCE)
    assert "1 finding, 1 move and 58 events;" in newest.told


def test_many_far_findings_are_one_sentence() -> None:
    far = [4e-4, 0.0, 4e-4, 0.0, -4e-4, 0.0, 4e-4] + [0.0, 1e-5] * 12
    (told,) = [t for t in history_signals(History(_runs(far)), FENCE) if "individuals chart" in t]
    assert "The findings of 2026-03-02, 2026-03-04, 2026-03-06 and 2026-03-08 lie up to" in told
    more = [4e-4, 0.0] * 6 + [0.0, 1e-5] * 40
    (told,) = [t for t in history_signals(History(_runs(more)), FENCE) if "individuals chart" in t]
    assert "6 days from 2026-03-02 to 2026-03-12" in told


def test_a_metric_shop_has_short_labels_and_sizes_that_tell_apart() -> None:
    shop = read_shop('trued = 1\nname = "own"\nunit = "mm"\n')
    drawing = history_drawing(History((five_cut(0, 1e-4),)), FENCE, LIMITS, shop)
    assert {"limit +0.060", "limit -0.060"} <= {s.text for s in drawing.shapes if isinstance(s, Label)}
    assert "limits, -0.060 mm per 300 mm and +0.060 mm per 300 mm" in drawing.told  # 2e-4 rad times 300 mm
