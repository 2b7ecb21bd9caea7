"""The chart of a feature's history: nothing left out, and signals that say what they are."""

import numpy as np
import pytest
from tests.shop.rows import FENCE, five_cut, happened, moved

from trued.measure.decision import Limits
from trued.shapes import Arrow, Label, Line, Path
from trued.shop.chart import MOST, history_drawing, history_signals
from trued.shop.history import History, Observed
from trued.shop.signal import FEWEST, untouched

LIMITS = Limits.within(2e-4)


def _runs(values: list[float], start: float = 0.0) -> tuple[Observed, ...]:
    return tuple(five_cut(start + 24.0 * i, v) for i, v in enumerate(values))


def test_every_finding_move_and_event_is_drawn() -> None:
    history = History((five_cut(0, 5e-4), five_cut(2, 1e-4)), (moved(1, 4e-4),), (happened(3, "saw-carried"),))
    drawing = history_drawing(history, FENCE, LIMITS)
    found = [s for s in drawing.shapes if isinstance(s, Path) and s.role == "found"]
    assert len(found) == 2
    arrows = [s for s in drawing.shapes if isinstance(s, Arrow) and s.role == "move"]
    assert len(arrows) == 1 and arrows[0].end[1] < arrows[0].start[1]  # opening lowers
    assert any(isinstance(s, Label) and s.text == "A" for s in drawing.shapes)
    assert "2 findings, 1 moves and 1 events" in drawing.told and "A: The saw was carried" in drawing.told
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
