"""Student's t and chi-square against the GUM's table and a reference library."""

import math

import pytest
from GTC import rp
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from trued.measure.distribution.chi_square import chi_square_cdf, chi_square_quantile
from trued.measure.distribution.student import root, t_cdf, t_quantile

# GUM (JCGM 100:2008), table G.2, columns 95 %, 95.45 % and 99 %, as printed (from memory; recomputed)
TABLE_G2 = {
    1: (12.71, 13.97, 63.66), 2: (4.30, 4.53, 9.92), 5: (2.57, 2.65, 4.03), 9: (2.26, 2.32, 3.25),
    10: (2.23, 2.28, 3.17), 16: (2.12, 2.17, 2.92), 20: (2.09, 2.13, 2.85), 50: (2.01, 2.05, 2.68),
}  # fmt: skip


@pytest.mark.parametrize("dof", TABLE_G2)
def test_gum_table_g2(dof: int) -> None:
    for level, printed in zip((0.95, 0.9545, 0.99), TABLE_G2[dof], strict=True):
        assert t_quantile(0.5 + level / 2, dof) == pytest.approx(printed, abs=0.0051)


@given(chance=st.floats(1e-4, 1 - 1e-4), dof=st.floats(0.3, 500))
def test_t_quantile_is_the_reference_library_s(chance: float, dof: float) -> None:
    assert t_quantile(chance, dof) == pytest.approx(stats.t.ppf(chance, dof), rel=1e-8, abs=1e-9)


@pytest.mark.parametrize("dof", [1, 4, 9, 30])
def test_coverage_factor_of_another_library(dof: int) -> None:
    assert t_quantile(0.975, dof) == pytest.approx(rp.k_factor(dof, 95), rel=1e-6)


@given(t=st.floats(-50, 50), dof=st.floats(0.5, 1000))
def test_t_cdf_is_the_reference_library_s_and_symmetric(t: float, dof: float) -> None:
    assert t_cdf(t, dof) == pytest.approx(stats.t.cdf(t, dof), abs=1e-11)
    assert t_cdf(-t, dof) == pytest.approx(1 - t_cdf(t, dof), abs=1e-12)


def test_many_degrees_of_freedom_are_normal() -> None:
    assert t_quantile(0.975, math.inf) == pytest.approx(1.959964, abs=1e-6)
    assert t_cdf(1.0, 1e8) == pytest.approx(stats.norm.cdf(1.0), abs=1e-12)
    assert t_cdf(math.inf, 3) == 1.0 and t_cdf(-math.inf, 3) == 0.0 and t_cdf(0.0, 3) == 0.5
    assert t_cdf(1e200, 3) == 1.0 and t_cdf(1e-200, 3) == 0.5


# Percentage points of chi-square (standard tables, from memory; recomputed)
CHI_SQUARE = [
    (0.95, 1, 3.8415), (0.95, 10, 18.307), (0.05, 10, 3.9403), (0.975, 9, 19.0228), (0.025, 9, 2.7004),
    (0.99, 20, 37.5662),
]  # fmt: skip


@pytest.mark.parametrize(("chance", "dof", "printed"), CHI_SQUARE)
def test_chi_square_tables(chance: float, dof: int, printed: float) -> None:
    assert chi_square_quantile(chance, dof) == pytest.approx(printed, abs=5.1e-5 if printed < 10 else 5.1e-4)


@given(chance=st.floats(1e-4, 1 - 1e-4), dof=st.floats(0.3, 500))
def test_chi_square_is_the_reference_library_s(chance: float, dof: float) -> None:
    x = float(stats.chi2.ppf(chance, dof))
    assert chi_square_cdf(x, dof) == pytest.approx(chance, abs=1e-10)
    assert chi_square_quantile(chance, dof) == pytest.approx(x, rel=1e-8, abs=1e-12)


def test_what_has_no_answer_is_said() -> None:
    assert chi_square_cdf(-1.0, 3) == 0.0
    for wrong in (0.0, 1.0):
        with pytest.raises(ValueError, match="between 0 and 1"):
            t_quantile(wrong, 5)
        with pytest.raises(ValueError, match="between 0 and 1"):
            chi_square_quantile(wrong, 5)
    with pytest.raises(ValueError, match="above 0"):
        t_cdf(1.0, 0.0)
    with pytest.raises(ValueError, match="finite and above 0"):
        chi_square_cdf(1.0, math.inf)


def test_a_root_is_found_in_few_steps() -> None:
    """The cube root of 2 between 0 and 2: as soon as a step moves by less than 1e-12 of it nothing more is asked."""
    asked: list[float] = []

    def rising(x: float) -> float:
        asked.append(x)
        return x**3 - 2.0

    assert root(rising, 0.0, 2.0) == pytest.approx(2.0 ** (1 / 3), rel=1e-12) and len(asked) < 25


@given(at=st.floats(-9, 9), steep=st.floats(0.01, 100))
def test_root_of_a_rising_function(at: float, steep: float) -> None:
    assert root(lambda x: math.tanh(steep * (x - at)), -10, 10) == pytest.approx(at, rel=1e-9, abs=1e-9)


def test_root_without_a_crossing_gives_the_nearer_end() -> None:
    assert root(lambda x: x + 20, -10, 10) == -10
    assert root(lambda x: x - 20, -10, 10) == 10
    assert root(lambda x: x, -10, 10) == 0.0
