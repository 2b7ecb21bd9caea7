"""Reversal: textbook algebra with numbers worked by hand (not published)."""

import math

import pytest

from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.reversal import reversal, three_against_each_other


def read(value: float, key: str, u: float = 0.01) -> UncertainValue:
    return UncertainValue.of(value, ErrorSource(key, "reading", u))


def test_a_level_tells_the_table_from_itself() -> None:
    """I_a = e_t + e_l, I_b = e_t - e_l: 0.05 and 0.01 are a table of 0.03 and a level of 0.02 (worked by hand)."""
    table, level = reversal(0.05, 0.01)
    assert (table.value, level.value) == pytest.approx((0.03, 0.02))


def test_each_half_is_known_better_than_a_reading() -> None:
    thing, own = reversal(read(0.05, "a"), read(0.01, "b"))
    assert thing.u == pytest.approx(0.01 / math.sqrt(2)) and own.u == pytest.approx(0.01 / math.sqrt(2))


def test_what_both_readings_share_stays_in_the_thing_alone() -> None:
    zero = UncertainValue.of(0.0, ErrorSource("zero", "zero of the indicator", 0.02))
    thing, own = reversal(0.05 + zero, 0.01 + zero)
    assert thing.u == pytest.approx(0.02) and own.u == 0.0


def test_three_straightedges() -> None:
    """s1 = 0.06, s2 = 0.02, s3 = 0.04 mm give A = 0.04, B = 0.02, C = 0.00; u(A) = sqrt(3)/2 u(s)."""
    a, b, c = three_against_each_other(read(0.06, "ab"), read(0.02, "bc"), read(0.04, "ac"))
    assert (a.value, b.value, c.value) == pytest.approx((0.04, 0.02, 0.00))
    assert [x.u for x in (a, b, c)] == pytest.approx([math.sqrt(3) / 2 * 0.01] * 3)
