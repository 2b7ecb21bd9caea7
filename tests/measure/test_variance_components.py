"""Variance components: NIST data sets with certified sums, the gauge study of the AIAG manual, laws."""

import csv
import math

import numpy as np
import pytest
from scipy import stats
from tests.measure.data import FOLDER, columns

from trued.measure.series.variance_components import crossed, f_beyond, one_way


def groups(name: str) -> list[list[float]]:
    data = columns(name)
    return [
        [v for g, v in zip(data["group"], data["value"], strict=True) if g == group]
        for group in sorted(set(data["group"]))
    ]


@pytest.mark.parametrize(
    ("name", "between", "within", "f"),
    [
        ("sirstv.csv", 5.11462616000000e-02, 2.16636560000000e-01, 1.18046237440255),
        ("atmwtag.csv", 3.63834187500000e-09, 1.04951729166667e-08, 1.59467335677930e01),
    ],
)
def test_certified_sums_of_squares(name: str, between: float, within: float, f: float) -> None:
    """NIST StRD, analysis of variance: SiRstv and AtmWtAg; nine digits, the data having seven constant leading ones."""
    found = one_way(groups(name))
    assert (found.between_ss, found.within_ss) == pytest.approx((between, within), rel=1e-7)
    assert found.f == pytest.approx(f, rel=1e-7)
    reference = stats.f_oneway(*groups(name))
    assert found.chance == pytest.approx(reference.pvalue, rel=1e-5)


def test_components_worked_by_hand() -> None:
    """Groups 1, 3 and 5, 7: within 2, between means 16 less 2, over 2 readings: 7."""
    found = one_way([[1.0, 3.0], [5.0, 7.0]])
    assert (found.within, found.between) == (2.0, 7.0)
    assert (found.within_dof, found.between_dof) == (2, 1)
    assert found.total == 9.0 and found.share_between == pytest.approx(7 / 9)


def test_groups_that_add_nothing_have_no_negative_variance() -> None:
    found = one_way([[1.0, 3.0], [2.0, 2.0], [3.0, 1.0]])
    assert found.between == 0.0 and found.f == 0.0 and found.chance == 1.0
    still = one_way([[2.0, 2.0], [2.0, 2.0]])
    assert still.total == 0.0 and still.share_between == 0.0
    apart = one_way([[2.0, 2.0], [3.0, 3.0]])
    assert math.isinf(apart.f) and apart.chance == 0.0 and apart.between == 0.5


def test_unlike_groups_give_the_truth_on_the_average() -> None:
    """Law: both components are unbiased, whatever the sizes (no group here is clipped at nought often)."""
    rng = np.random.default_rng(5)
    found = []
    for _ in range(1500):
        group = [list(rng.normal(rng.normal(0.0, 3.0), 1.0, n)) for n in (2, 3, 5, 4, 2, 6)]
        found.append(one_way(group))
    assert np.mean([x.within for x in found]) == pytest.approx(1.0, abs=0.03)
    assert np.mean([x.between for x in found]) == pytest.approx(9.0, rel=0.06)


@pytest.mark.parametrize("bad", [[[1.0, 2.0]], [[1.0], [2.0]], [[1.0, 2.0], []], [[1.0, 2.0, 3.0], []], []])
def test_too_few_readings_are_refused(bad: list[list[float]]) -> None:
    with pytest.raises(ValueError, match="two groups or more"):
        one_way(bad)


def aiag() -> dict[tuple[str, str], list[float]]:
    path = FOLDER / "aiag_grr_10x3x3.csv"
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    cells: dict[tuple[str, str], list[float]] = {}
    for row in csv.DictReader(lines):
        cells.setdefault((row["part"], row["appraiser"]), []).append(float(row["value"]))
    return cells


def test_the_gauge_study_of_the_manual() -> None:
    """AIAG Measurement Systems Analysis, 4th ed., ch. III-B; tolerance = the printed digits."""
    found = crossed(aiag())
    assert found.sums == pytest.approx({"part": 88.362, "hand": 3.167, "interaction": 0.359, "repeat": 2.759}, abs=5e-4)
    assert found.dofs == {"part": 9, "hand": 2, "interaction": 18, "repeat": 60}
    assert found.interaction_f == pytest.approx(0.434, abs=5e-4)
    assert found.interaction_chance == pytest.approx(0.9741, abs=5e-5) and found.pooled
    assert found.repeatability == pytest.approx(0.03997, abs=5e-6)
    assert found.hand == pytest.approx(0.05146, abs=5e-6)
    assert found.part == pytest.approx(1.08645, abs=5e-6)
    assert found.measuring == pytest.approx(0.09143, abs=5e-6)
    assert math.sqrt(found.measuring) == pytest.approx(0.302373, abs=2e-6)
    assert math.sqrt(found.part) == pytest.approx(1.042327, abs=2e-6)
    assert math.sqrt(found.total) == pytest.approx(1.0853, abs=5e-5)
    assert 100 * found.measuring / found.total == pytest.approx(7.76, abs=5e-3)
    assert 100 * math.sqrt(found.measuring / found.total) == pytest.approx(27.86, abs=5e-3)
    assert found.categories == 4


def test_without_pooling_the_result_is_another() -> None:
    """The rule of pooling is part of the result: unpooled the repeatability is 0.214435 as a standard deviation."""
    found = crossed(aiag(), level=1.0)
    assert not found.pooled and math.sqrt(found.repeatability) == pytest.approx(0.214435, abs=5e-7)
    assert found.interaction == 0.0  # -0.00868, taken as nought
    assert found.hand == pytest.approx(0.05212, abs=5e-6) and found.part == pytest.approx(1.08867, abs=5e-6)


def test_two_by_two_by_two_worked_by_hand() -> None:
    """Cells 10 12, 14 16, 20 22, 24 26: sums 200, 32, 0, 8; pooled variances 1.6, 7.6 and 49.6."""
    cells = {("1", "a"): (10, 12), ("1", "b"): (14, 16), ("2", "a"): (20, 22), ("2", "b"): (24, 26)}
    found = crossed({key: [float(v) for v in values] for key, values in cells.items()})
    assert found.sums == {"part": 200.0, "hand": 32.0, "interaction": 0.0, "repeat": 8.0}
    assert (found.repeatability, found.hand, found.part) == pytest.approx((1.6, 7.6, 49.6))


def test_an_interaction_that_is_there_is_kept_apart() -> None:
    cells = {("1", "a"): [0.0, 0.1], ("1", "b"): [5.0, 5.1], ("2", "a"): [5.0, 5.1], ("2", "b"): [0.0, 0.1]}
    found = crossed(cells)
    assert not found.pooled and found.interaction == pytest.approx((50.0 - 0.005) / 2) and found.hand == 0.0
    assert found.measuring == pytest.approx((50.0 - 0.005) / 2 + 0.005)
    assert found.categories == 0
    still = crossed({key: [1.0, 1.0] for key in cells})
    assert still.categories == 0 and still.total == 0.0 and still.interaction_chance == 1.0
    exact = crossed({key: [values[0]] * 2 for key, values in cells.items()})
    assert math.isinf(exact.interaction_f)


@pytest.mark.parametrize("change", [{("2", "b"): [1.0]}, {("2", "b"): [1.0, 2.0, 3.0]}, {("3", "b"): [1.0, 2.0]}])
def test_a_design_with_holes_is_refused(change: dict[tuple[str, str], list[float]]) -> None:
    cells = {("1", "a"): [0.0, 0.1], ("1", "b"): [5.0, 5.1], ("2", "a"): [5.0, 5.1], ("2", "b"): [0.0, 0.1]} | change
    with pytest.raises(ValueError, match="every hand reads every part"):
        crossed(cells)


@pytest.mark.parametrize(("dof", "below"), [(1, 10), (2, 10), (5, 10), (9, 18), (10, 10)])
def test_f_beyond(dof: int, below: int) -> None:
    """A reference library's F distribution, also where it leaves 5 % beyond."""
    assert f_beyond(float(stats.f.isf(0.05, dof, below)), dof, below) == pytest.approx(0.05, rel=1e-9)
    for f in (0.2, 1.0, 7.0, 60.0):
        assert f_beyond(f, dof, below) == pytest.approx(stats.f.sf(f, dof, below), rel=1e-9)
