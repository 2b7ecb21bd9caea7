"""Control charts against the worked examples of the NIST/SEMATECH e-Handbook of Statistical Methods."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.measure.data import columns

from trued.measure.series.control_charts import D2, cusum, ewma, individuals


def test_individuals_of_the_flow_rates() -> None:
    """6.3.2.2: mean 50.81, mean moving range 1.8778, limits 55.8041 and 45.8159 with d2 = 1.128.

    Not by the sample standard deviation 2.0339, nor by the exact d2 (half width 4.9924 instead of 4.9941).
    """
    chart = individuals(columns("nist_flowrate_imr.csv")["flowrate"])
    assert chart.values.centre == pytest.approx(50.81, abs=5e-3)
    assert chart.ranges.centre == pytest.approx(1.8778, abs=5e-5)
    assert chart.values.high == pytest.approx(55.8041, abs=5e-5)
    assert chart.values.low == pytest.approx(45.8159, abs=5e-5)
    assert chart.values.out == () and chart.ranges.high == pytest.approx(3.267 * 1.8778, abs=1e-3)
    assert chart.s == pytest.approx(1.877778 / 1.128, rel=1e-6)


def test_the_divisor_is_the_handbook_s_rounded_one() -> None:
    assert pytest.approx(2.0 / math.sqrt(math.pi), abs=5e-4) == D2 and D2 == 1.128


def test_ewma_of_the_handbook() -> None:
    """6.3.2.4: weight 0.3, target 50, s 2.0539; twenty printed values, limits 52.5884 and 47.4115 (the lower one is
    cut off, not rounded: it is 47.41157)."""
    data = columns("nist_ewma.csv")
    chart = ewma(data["x"], 50.0, 2.0539, 0.3)
    assert [round(v, 2) for v in chart.values] == data["ewma_published"]
    assert chart.high == pytest.approx(52.5884, abs=1e-4) and chart.low == pytest.approx(47.4115, abs=1e-4)
    assert chart.out == ()


def test_cusum_of_the_handbook() -> None:
    """6.3.2.3: target 325, k 0.3175, h 4.1959: the first signal is at group 14, and it stays to group 20."""
    sums = cusum(columns("nist_cusum.csv")["x"], 325.0, 0.3175, 4.1959)
    assert [i + 1 for i in sums.out] == [14, 15, 16, 17, 18, 19, 20]
    assert sums.up[12:15] == pytest.approx([3.0075, 4.94, 7.4475]) and sums.up[-1] == pytest.approx(19.035)
    assert max(sums.down) == pytest.approx(0.715) and sums.down.index(max(sums.down)) + 1 == 8
    assert sums.begun(13) + 1 == 13


def test_a_downward_run_is_seen_too() -> None:
    sums = cusum([0.0, 1.0, -2.0, -2.0, -2.0], 0.0, 0.5, 4.0)
    assert sums.out == (4,) and sums.begun(4) == 2
    assert cusum([2.0, 2.0], 0.0, 0.5, 9.0).begun(1) == 0


def test_what_cannot_be_charted_is_refused() -> None:
    with pytest.raises(ValueError, match="at least two"):
        individuals([1.0])
    for weight, s in ((0.0, 1.0), (1.1, 1.0), (0.3, -1.0)):
        with pytest.raises(ValueError, match="weight"):
            ewma([1.0], 0.0, s, weight)


def test_a_limit_itself_is_not_beyond_it() -> None:
    """Values all alike have a range of 0 and stand on both limits; a range has no lower limit but 0 (6.3.2.2)."""
    chart = individuals([5.0, 5.0, 5.0])
    assert chart.values.out == () and chart.ranges.out == ()
    assert individuals([1.0, 4.0, 2.0]).ranges.low == 0.0


def test_a_known_value_has_no_band_at_all_and_the_usual_weight_is_the_handbook_s() -> None:
    still = ewma([1.0, 2.0], 1.0, 0.0, 0.005)
    assert still.low == still.high == 1.0
    assert ewma([1.0], 0.0, 1.0) == ewma([1.0], 0.0, 1.0, 0.3)


values = st.lists(st.floats(-100.0, 100.0), min_size=2, max_size=30)


@given(values, st.floats(-10.0, 10.0))
def test_a_chart_of_shifted_values_is_the_shifted_chart(xs: list[float], shift: float) -> None:
    one, two = individuals(xs), individuals([x + shift for x in xs])
    assert two.values.centre == pytest.approx(one.values.centre + shift, abs=1e-9)
    assert two.ranges.high == pytest.approx(one.ranges.high, abs=1e-9)


@given(values)
def test_a_weight_of_one_is_the_values_themselves(xs: list[float]) -> None:
    assert ewma(xs, 0.0, 1.0, 1.0).values == pytest.approx(tuple(xs))
