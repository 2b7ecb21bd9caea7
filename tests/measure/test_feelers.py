"""Feelers: the fewest leaves, against a search that knows no better than to try every subset."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trued.measure.feelers import (
    COMMON_INCH,
    COMMON_METRIC,
    HALF_STEP_MM,
    INCH_MM,
    Pair,
    least_pair,
    least_stack,
    smallest_step_mm,
)


def inches(stack: object) -> list[float]:
    leaves = getattr(stack, "leaves_mm", ())
    return [round(leaf / INCH_MM, 5) for leaf in leaves]


@pytest.mark.parametrize(
    ("wanted", "leaves"),
    [(0.0054, [0.004, 0.0015]), (0.005, [0.005]), (0.0033, [0.003]), (0.0455, [0.025, 0.018, 0.0025]), (0.097, None)],
)
def test_worked_by_hand(wanted: float, leaves: list[float] | None) -> None:
    """0.0054 takes two, as 0.004 and 0.0015; 0.0033 is near enough to 0.003; 0.0455 is half a step from any two."""
    stack = least_stack(wanted * INCH_MM, 0.0003 * INCH_MM)
    if leaves is None:
        assert stack is None
    else:
        assert stack is not None and len(inches(stack)) == len(leaves)
        assert stack.thickness_mm / INCH_MM == pytest.approx(wanted, abs=0.0003)
        assert stack.off_mm == pytest.approx(stack.thickness_mm - wanted * INCH_MM, abs=1e-6)


def test_the_nearest_of_the_fewest() -> None:
    assert inches(least_stack(0.0054 * INCH_MM, HALF_STEP_MM)) == [0.004, 0.0015]
    assert inches(least_stack(0.0262 * INCH_MM, 0.01)) in ([0.0245, 0.0015], [0.024, 0.002], [0.023, 0.003])


@given(
    st.lists(st.integers(1, 400), min_size=1, max_size=8, unique=True),
    st.integers(1, 1500),
    st.integers(0, 20),
    st.integers(1, 5),
)
@settings(max_examples=60)
def test_no_subset_is_smaller_or_as_small_and_nearer(leaves: list[int], wanted: int, room: int, most: int) -> None:
    """The law: every subset of the set is tried, in thousandths of a mm, without sorting or stopping early."""
    stack = least_stack(wanted / 1e3, room / 1e3, [leaf / 1e3 for leaf in leaves], most=most)
    subsets = [c for n in range(1, most + 1) for c in combinations(leaves, n) if abs(sum(c) - wanted) <= room]
    if not subsets:
        assert stack is None
        return
    best = min((len(c), abs(sum(c) - wanted)) for c in subsets)
    assert stack is not None
    found = [round(leaf * 1e3) for leaf in stack.leaves_mm]
    assert set(found) <= set(leaves) and len(set(found)) == len(found) and found == sorted(found, reverse=True)
    assert (len(found), abs(sum(found) - wanted)) == best


def test_two_leaves_that_differ() -> None:
    pair = least_pair(0.0011 * INCH_MM, HALF_STEP_MM)
    assert isinstance(pair, Pair)
    assert (pair.thicker_mm - pair.thinner_mm) / INCH_MM == pytest.approx(0.001)
    assert pair.thinner_mm / INCH_MM == pytest.approx(0.0015) or pair.thinner_mm / INCH_MM == pytest.approx(0.002)
    assert pair.off_mm / INCH_MM == pytest.approx(-0.0001)
    assert least_pair(0.0002 * INCH_MM, 0.0002 * INCH_MM) is None
    assert least_pair(2.0, 0.01) is None


def test_the_smallest_step() -> None:
    """Worked by hand: 0.002 less 0.0015; 0.03 less 0.02; a set of one leaf can only make that."""
    assert smallest_step_mm() / INCH_MM == pytest.approx(0.0005)
    assert smallest_step_mm(COMMON_METRIC) == pytest.approx(0.01)
    assert smallest_step_mm((0.3,)) == 0.3


def test_the_common_sets() -> None:
    assert len(COMMON_INCH) == 26 and min(COMMON_INCH) / INCH_MM == pytest.approx(0.0015)
    assert len(COMMON_METRIC) == 27 and (min(COMMON_METRIC), max(COMMON_METRIC)) == pytest.approx((0.02, 1.0))
