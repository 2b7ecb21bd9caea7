"""The virtual shop of the benchmarks, small: the tool against three stand-ins and an oracle that knows everything.

docs/virtual-shop.md has the figures of thousands of shops; here 150 of them show that the order of things holds.
"""

from random import Random

import pytest
from benchmarks.virtual.nature import USUAL
from benchmarks.virtual.oracle import sessions
from benchmarks.virtual.report import first_session, later_session, line, table
from benchmarks.virtual.sled import Sled
from benchmarks.virtual.stand_ins import RULES, set_by
from benchmarks.virtual.told import Told

SEED, SHOPS = 20261125, 150


def _mean(told: list[Told]) -> float:
    return sum(t.runs for t in told) / len(told)


@pytest.fixture(scope="module")
def first() -> list[Told]:
    return [first_session(USUAL, SEED, n) for n in range(SHOPS)]


@pytest.fixture(scope="module")
def later() -> list[Told]:
    return [later_session(1, USUAL, SEED, n) for n in range(SHOPS)]


@pytest.fixture(scope="module")
def oracle() -> list[Told]:
    return sessions([Sled(USUAL, SEED, n) for n in range(SHOPS)], USUAL, 2, 0.75)


def test_with_a_pair_on_record_it_needs_at_most_a_tenth_more_than_the_oracle(
    later: list[Told], oracle: list[Told]
) -> None:
    assert _mean(later) <= 1.10 * _mean(oracle)


def test_in_a_first_session_it_needs_at_most_one_run_more(first: list[Told], oracle: list[Told]) -> None:
    assert _mean(first) <= _mean(oracle) + 1.1


@pytest.mark.parametrize("name", RULES)
def test_fewer_runs_than_a_stand_in_and_as_often_true(name: str, first: list[Told], later: list[Told]) -> None:
    told = [set_by(RULES[name], Sled(USUAL, SEED, n), Random(n), 2) for n in range(SHOPS)]
    assert _mean(first) < _mean(told) and _mean(later) < _mean(told)
    true = sum(t.true_in for t in told)
    assert min(sum(t.true_in for t in first), sum(t.true_in for t in later)) >= true - 3
    worse = sum(t.worse for t in told)
    assert sum(t.worse for t in later) <= worse + 3


def test_proven_in_is_right_and_the_intervals_hold(first: list[Told], later: list[Told]) -> None:
    for session in (first, later):
        proven = [t for t in session if t.proven]
        assert len(proven) >= 0.97 * SHOPS
        assert sum(t.true_in for t in proven) >= 0.95 * len(proven)
        held = [h for t in session for h in t.held]
        assert 0.90 <= sum(held) / len(held) <= 0.99


def test_the_table_has_a_line_for_each(first: list[Told]) -> None:
    head, row = table({"first": first})
    assert len(head) == len(row) and row == line("first", first)
