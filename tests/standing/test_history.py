"""What happened, in order: arrival does not matter, a corrected row counts as never typed."""

from dataclasses import replace
from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.standing.rows import FENCE, five_cut, happened, hour, kerf, moved

from trued.standing.history.history import Adjustment, History, ShopEvent

OBSERVED = (five_cut(0, 3e-4), five_cut(2, 1e-4), five_cut(2, 0.9e-4, "other"), kerf(3))
MOVED = (moved(1, 2e-4), moved(4, 1e-4, "close"))
HAPPENED = (happened(2, "saw-carried"), happened(5, "facing-renewed", "sled"))


@given(st.permutations(OBSERVED), st.permutations(MOVED), st.permutations(HAPPENED))
def test_order_of_arrival_does_not_matter(a: list, b: list, c: list) -> None:
    assert History(tuple(a), tuple(b), tuple(c)) == History(OBSERVED, MOVED, HAPPENED)


def test_rows_of_a_feature_come_in_order_of_time() -> None:
    rows = History(OBSERVED, MOVED, HAPPENED).of(FENCE)
    assert [row.at for row in rows] == sorted(row.at for row in rows)
    assert len(rows) == 3 + 2 + 2


def test_at_the_same_moment_what_was_done_comes_before_what_was_found() -> None:
    history = History((five_cut(1, 1e-4),), (moved(1, 1e-4),), (happened(1, "saw-carried"),))
    assert [type(row).__name__ for row in history.of(FENCE)] == ["ShopEvent", "Adjustment", "Result"]


def test_a_superseded_row_was_never_typed() -> None:
    wrong, right = five_cut(0, 9e-3, "wrong"), five_cut(0.1, 3e-4, "right", supersedes="wrong")
    assert History((wrong, right)) == History((right,))
    slip = moved(1, 2e-3)
    mended = replace(moved(1.1, 2e-4), supersedes=slip.id)
    assert History((right,), (slip, mended)).moved == (mended,)
    meant = replace(happened(2, "tilt-used"), supersedes="event-1")
    assert History((), (), (happened(1, "saw-carried"), meant)).happened == (meant,)


def test_a_second_delivery_is_the_same_row() -> None:
    assert History((*OBSERVED, *OBSERVED), (*MOVED, *MOVED), (*HAPPENED, *HAPPENED)) == History(
        OBSERVED, MOVED, HAPPENED
    )
    nameless = replace(moved(1, 1e-4), id="")
    assert len(History((), (nameless, nameless)).moved) == 1


def test_until() -> None:
    history = History(OBSERVED, MOVED, HAPPENED).until(hour(2))
    assert (len(history.observed), len(history.moved), len(history.happened)) == (3, 1, 1)
    assert history.features == (FENCE,)


def test_a_positive_move_is_the_first_direction() -> None:
    assert moved(0, 1e-4, "open").u == 1e-4
    assert moved(0, 1e-4, "close").u == -1e-4
    assert Adjustment(hour(0), "sled.stop-offset@0", 0.1, "shorter").u == 0.1


@pytest.mark.parametrize(
    ("feature", "amount", "direction", "said"),
    [
        (FENCE, 1e-4, "left", "open or close"),
        (FENCE, -1e-4, "open", "0 or more"),
        (FENCE, float("nan"), "open", "0 or more"),
        ("blade.kerf", 1.0, "open", "cannot be moved"),
        ("sled.nonsense", 1.0, "open", "cannot be moved"),
    ],
)
def test_a_move_cannot_be_built_wrong(feature: str, amount: float, direction: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        Adjustment(hour(0), feature, amount, direction)


def test_a_time_carries_its_zone() -> None:
    with pytest.raises(ValueError, match="zone"):
        ShopEvent(datetime(2026, 3, 2), "saw-carried")  # noqa: DTZ001 -- that is the fault


def test_an_unknown_event_is_refused() -> None:
    with pytest.raises(ValueError, match="no event"):
        ShopEvent(hour(0), "saw-carted")
