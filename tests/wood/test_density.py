"""Density against the Handbook's example and against what the trade carries in its head."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.errors import InputRefused
from trued.wood.density import density, density_kg_m3, known_materials, wood_density_kg_m3
from trued.wood.species import Basis, Gravity

LB_FT3 = 16.01846337396014  # exact pound and foot


def test_the_handbooks_example() -> None:
    """G 0.4 at 12 %: 448 kg/m³, 27.968 lb/ft³ (seen in a copy of ch. 4; printed cut off: 27.9686)."""
    rho = wood_density_kg_m3(Gravity(0.4, Basis.AT_12_PERCENT, "example"), 12)
    assert rho == pytest.approx(448.0, abs=0.05)
    assert rho / LB_FT3 == pytest.approx(27.968, abs=0.001)


@given(st.floats(0.1, 1.0))
def test_at_12_percent_the_green_detour_closes(gravity: float) -> None:
    rho = wood_density_kg_m3(Gravity(gravity, Basis.AT_12_PERCENT, "law"), 12)
    assert rho == pytest.approx(1120 * gravity)


def test_green_basis() -> None:
    """G_b 0.5 at 0 %: 0.5/(1 − 0.265·0.5) = 0.57637; above 30 % the volume stays, so 0.5·1000·1.6 at 60 %."""
    green = Gravity(0.5, Basis.GREEN, "by hand")
    assert wood_density_kg_m3(green, 0) == pytest.approx(576.37, abs=0.01)
    assert wood_density_kg_m3(green, 60) == pytest.approx(800.0)


@given(st.floats(0, 199), st.floats(0.1, 1))
def test_water_makes_wood_heavier(moisture: float, more: float) -> None:
    oak = Gravity(0.63, Basis.AT_12_PERCENT, "law")
    assert wood_density_kg_m3(oak, moisture + more) > wood_density_kg_m3(oak, moisture)


# Common practice, lb/ft³: red oak 44, hard maple 44, poplar 29, white pine 25 (the trade's 26 covers several pines).
@pytest.mark.parametrize(("name", "trade"), [("red oak", 44), ("hard maple", 44), ("poplar", 29), ("white pine", 25)])
def test_species_agree_with_the_trades_figures(name: str, trade: float) -> None:
    assert density_kg_m3(name) / LB_FT3 == pytest.approx(trade, abs=1)


@pytest.mark.parametrize(
    ("name", "lb_ft3"), [("pine", 26), ("maple", 44), ("oak", 44), ("MDF", 48), ("plywood", 40), ("ply", 40)]
)
def test_common_practice_is_marked_as_such(name: str, lb_ft3: float) -> None:
    found = density(name)
    assert found.kg_m3 / LB_FT3 == pytest.approx(lb_ft3)
    assert found.source == "common practice"


def test_plywood_covers_the_trades_range() -> None:
    ply = density("plywood")
    assert ply.low_kg_m3 / LB_FT3 < 38 and ply.high_kg_m3 / LB_FT3 > 42


def test_drier_wood_is_lighter() -> None:
    assert density_kg_m3("walnut", moisture_percent=6) < density_kg_m3("walnut")
    assert "walnut" in density("walnut").source.lower()


def test_unknown_material_names_the_known_ones() -> None:
    with pytest.raises(InputRefused, match=r"not known.*mdf.*walnut"):
        density("unobtainium")


def test_a_wood_without_a_weight_says_so() -> None:
    with pytest.raises(InputRefused, match="weigh a piece"):
        density("alder")


@pytest.mark.parametrize("moisture", [-1, 201, float("nan")])
def test_impossible_moisture_is_refused(moisture: float) -> None:
    with pytest.raises(InputRefused, match="moisture"):
        density("walnut", moisture_percent=moisture)


def test_every_known_material_has_a_density_within_its_range() -> None:
    for name in known_materials():
        found = density(name)
        assert 200 < found.low_kg_m3 < found.kg_m3 < found.high_kg_m3 < 1000
