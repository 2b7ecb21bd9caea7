"""What is known, kept as text and gone on from, is to the last bit what comes from nothing."""

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.standing.rows import five_cut, happened, hour, kerf, moved, stop_scale

from trued.advice.statuses import standings, standings_of
from trued.standing.history.history import Adjustment, History, Result, ShopEvent, in_order
from trued.standing.learned.learned_state import LearnedState, fold_history
from trued.standing.learned.state_codec import decode, encode

steps = st.lists(
    st.tuples(st.sampled_from(["run", "kerf", "scale", "open", "close", "saw-carried", "blade-thinner"]),
              st.floats(-9e-4, 9e-4)),
    min_size=1, max_size=14,
)  # fmt: skip


def _history(story: list[tuple[str, float]]) -> History:
    observed: list[Result] = []
    moves: list[Adjustment] = []
    events: list[ShopEvent] = []
    for n, (what, size) in enumerate(story):
        at = 30.0 * n
        if what == "run":
            observed.append(five_cut(at, size))
        elif what == "kerf":
            observed.append(kerf(at, 2.4 + size))
        elif what == "scale":
            observed += stop_scale(at, 100.0 * size, size / 10.0)
        elif what in ("open", "close"):
            moves.append(moved(at, abs(size), what))
        else:
            events.append(happened(at, what))
    return History(tuple(observed), tuple(moves), tuple(events))


@settings(max_examples=80, deadline=None)
@given(steps, st.integers(0, 14))
def test_kept_and_gone_on_from_is_the_same_to_the_last_bit(story: list[tuple[str, float]], cut: int) -> None:
    history = _history(story)
    rows = in_order(history)
    kept = encode(LearnedState().take_all(rows[:cut]))
    gone_on = decode(kept).take_all(rows[cut:])
    now = hour(30.0 * len(story)) + timedelta(days=3)
    assert standings_of(gone_on, now) == standings(history, now)
    assert encode(gone_on) == encode(fold_history(history))


def test_text_that_is_no_knowledge_is_refused() -> None:
    with pytest.raises(ValueError, match="not what is known"):
        decode("[1, 2]")


def test_nothing_else_is_kept() -> None:
    known = LearnedState()
    known.doubts = {("a", "b"): object()}  # type: ignore[dict-item]
    with pytest.raises(TypeError, match="no part"):
        encode(known)


def test_ten_thousand_readings_in_a_fifth_of_a_second() -> None:
    """Five readings a run: 2,000 runs. Measured in this process; the bound is wide, the figure is in the docs."""
    import time

    history = History(
        tuple(five_cut(n, 1e-4 * (-1) ** n) for n in range(2000)),
        tuple(moved(n + 0.5, 1e-5) for n in range(0, 2000, 10)),
    )
    start = time.process_time()
    standings(history, hour(2001))
    assert time.process_time() - start < 10.0  # what grows with the square takes minutes; this is no measure of speed
