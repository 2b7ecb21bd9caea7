"""Scatter that is learnt, and the instruments that start with one."""

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.measure.data import columns

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import DEFAULTS, INCH_MM, KINDS, Instrument

ALMOST_NO_START = EstimatedSd(0.0, 1e-12)


@pytest.mark.parametrize(
    ("name", "certified", "digits"),
    [("michelso.csv", 0.0790105478190518, 12), ("lottery.csv", 291.699727470969, 12), ("numacc4.csv", 0.1, 8)],
)
def test_nist_strd_standard_deviations(name: str, certified: float, digits: int) -> None:
    """With next to no start, what a run of readings teaches is its own standard deviation: NIST StRD, univariate;
    which copy was read stands in the files. NumAcc4's data differ in their ninth digit, so plain doubles hold nine of
    it."""
    s = ALMOST_NO_START.learn_repeats(columns(name)["y"]).s
    assert abs(s / certified - 1) < 10.0**-digits


def test_a_start_counts_as_many_readings_as_it_has_degrees_of_freedom() -> None:
    """Conjugate updating of a scaled inverse chi-square (Gelman et al., Bayesian Data Analysis, 2.6)."""
    after = EstimatedSd(2.0, 4).learn([1.0, 3.0])
    assert after.dof == 6 and after.s == pytest.approx(math.sqrt((4 * 4 + 1 + 9) / 6)) and after.seen == 2


def test_a_pair_of_runs_is_one_deviation() -> None:
    after = EstimatedSd(1.0, 4).learn_pair(0.0, 2.0)
    assert after.s == pytest.approx(math.sqrt((4 + 2) / 5)) and (after.pairs, after.seen) == (1, 1)
    assert EstimatedSd(1.0, 4).learn_pair(7.0, 9.0).s == pytest.approx(after.s)  # only their difference counts


def test_one_reading_teaches_nothing() -> None:
    assert EstimatedSd(1.0, 4).learn_repeats([5.0]) == EstimatedSd(1.0, 4)


@given(st.lists(st.floats(-5, 5), min_size=2, max_size=8))
def test_repeats_teach_their_own_variance(readings: list[float]) -> None:
    after = ALMOST_NO_START.learn_repeats(readings)
    assert after.s == pytest.approx(statistics.stdev(readings), abs=1e-9)
    assert after.dof == pytest.approx(len(readings) - 1)


@pytest.mark.parametrize(("s", "dof"), [(-1.0, 4.0), (1.0, 0.0)])
def test_a_scatter_cannot_be_built_wrong(s: float, dof: float) -> None:
    with pytest.raises(ValueError, match="scatter"):
        EstimatedSd(s, dof)


# --- instruments


def test_the_inch() -> None:
    """25.4 mm exactly since 1 July 1959 (seen; 24 FR 5348)."""
    assert INCH_MM == 25.4


def test_every_kind_has_a_start() -> None:
    assert set(DEFAULTS) == set(KINDS)
    assert all("common practice" in instrument.source for instrument in DEFAULTS.values())


def test_what_is_taken_for_an_instrument_that_nobody_has_described() -> None:
    """Common practice throughout, in the units of the trade: step, limit, repeat, longest reading, digital."""
    mil, minute = 0.0254, math.radians(1.0) / 60.0
    taken = {
        "caliper": (0.01, 0.02, 0.025, 203.2, True),
        "rule": (25.4 / 64, 0.3, 0.2, 609.6, False),
        "tape": (25.4 / 32, 0.8, 0.4, 5000.0, False),
        "feelers": (0.5 * mil, 0.005, 0.013, 3.0, False),
        "indicator": (0.01, 0.02, 0.008, 12.0, False),
        "square": (0.02, 0.03, 0.02, None, False),
        "straightedge": (0.02, 0.03, 0.02, None, False),
        "angle-gauge": (3.0 * minute, 6.0 * minute, 3.0 * minute, None, True),
        "gauge": (0.001, 0.005, 0.002, None, False),
        "stick": (0.01, 0.05, 0.03, None, False),
    }
    for kind, figures in taken.items():
        one = DEFAULTS[kind]
        got = (one.resolution, one.limit, one.repeat.s, one.range_mm, one.digital)
        assert got == pytest.approx(figures), kind
        assert one.id == one.kind == kind and one.repeat.dof == 10
    assert set(taken) == set(DEFAULTS)


def test_a_length_pays_for_the_limit_and_a_difference_does_not() -> None:
    caliper = DEFAULTS["caliper"]
    a, b = caliper.read("a", "caliper", [12.0]), caliper.read("b", "caliper", [13.0])
    assert a.u == pytest.approx(math.hypot(0.025, 0.02 / math.sqrt(3)))
    assert (b - a).u == pytest.approx(0.025 * math.sqrt(2))


def test_repeats_are_averaged_only_where_the_scatter_is_seen() -> None:
    caliper = DEFAULTS["caliper"]
    for s, u in ((0.02, 0.02 / 2), (0.001, 0.01 / math.sqrt(12))):  # never finer than the step, then not divided by n
        four = caliper.read("a", "c", [1.0, 1.0, 1.0, 1.0], EstimatedSd(s, 5))
        assert {c.label: c.u for c in four.components}["c: repeat of a reading"] == pytest.approx(u)


def test_repeats_sharpen_the_instrument() -> None:
    known = DEFAULTS["caliper"].scatter([[1.0, 1.02], [5.0, 5.01, 5.02]])
    assert known.dof == 10 + 1 + 2 and known.seen == 3


@pytest.mark.parametrize(
    ("kind", "resolution", "limit"), [("ruler", 0.1, 0.1), ("caliper", 0.0, 0.1), ("caliper", 0.01, -0.1)]
)
def test_an_instrument_cannot_be_built_wrong(kind: str, resolution: float, limit: float) -> None:
    with pytest.raises(ValueError, match=r"unknown kind|resolution"):
        Instrument("mine", kind, resolution, limit, EstimatedSd(0.02, 5))
