"""The table of movement, cell by cell, and the names that lead to it."""

import csv
from pathlib import Path

import pytest

from trued.errors import InputRefused
from trued.wood.coefficients import TABLE_13_5, Coefficients, Seen
from trued.wood.species import SPECIES, Basis, Gravity, known_species_names, species_named

TABLE = Path(__file__).parent.parent / "data" / "wood_handbook_table_13_5.csv"


def rows() -> list[dict[str, str]]:
    with TABLE.open(encoding="utf-8") as lines:
        return list(csv.DictReader((line for line in lines if not line.startswith("#")), delimiter=";"))


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["species"])
def test_table_13_5(row: dict[str, str]) -> None:
    mine = TABLE_13_5[row["species"]]
    assert (mine.radial, mine.tangential) == (float(row["C_R"]), float(row["C_T"]))
    assert (mine.seen is Seen.SEEN) == (row["status"] == "S")


def test_no_row_is_invented() -> None:
    assert set(TABLE_13_5) == {row["species"] for row in rows()}


# Wood Handbook Table 4-3, shrinkage from green to dry in % (radial, tangential), from memory. The rule of Table 13-5,
# C = 1/(3000/S − 20), gives its printed coefficients back: two tables, one wood.
@pytest.mark.parametrize(
    ("name", "radial", "tangential"),
    [("sugar maple", 4.8, 9.9), ("black cherry", 3.7, 7.1), ("black walnut", 5.5, 7.8), ("white ash", 4.9, 7.8)],
)
def test_table_13_5_follows_from_table_4_3(name: str, radial: float, tangential: float) -> None:
    (wood,) = species_named(name)
    assert 1 / (3000 / radial - 20) == pytest.approx(wood.coefficients.radial, abs=5.1e-6)
    assert 1 / (3000 / tangential - 20) == pytest.approx(wood.coefficients.tangential, abs=5.1e-6)


@pytest.mark.parametrize("typed", ["Maple, sugar", "sugar maple", "SUGAR  MAPLE", "hard maple"])
def test_one_wood_by_each_of_its_names(typed: str) -> None:
    assert [wood.name for wood in species_named(typed)] == ["Maple, sugar"]


def test_a_loose_name_means_all_its_species() -> None:
    assert len(species_named("maple")) == 4
    assert {wood.name for wood in species_named("oak")} == {"Red oak, commercial", "White oak, commercial"}


def test_an_unknown_wood_is_refused_with_the_known_ones() -> None:
    with pytest.raises(InputRefused, match="maple, sugar"):
        species_named("ironbark")


def test_every_known_name_is_found() -> None:
    for name in known_species_names():
        assert species_named(name)


def test_the_basis_and_source_are_said() -> None:
    (walnut,) = species_named("walnut")
    assert any("12 %" in source and "Table 5-3" in source for source in walnut.sources)
    (alder,) = species_named("alder")
    assert alder.gravity is None and len(alder.sources) == 1


def test_fibre_saturation_of_the_two_exceptions() -> None:
    low = {wood.name for wood in SPECIES if wood.fibre_saturation_percent == 22}
    assert low == {"Redwood, old growth", "Redwood, young growth", "Western redcedar"}


@pytest.mark.parametrize(("radial", "tangential"), [(0.003, 0.002), (0.0, 0.002), (0.002, 0.02)])
def test_coefficients_that_no_wood_has_cannot_be_built(radial: float, tangential: float) -> None:
    with pytest.raises(ValueError, match="rings"):
        Coefficients(radial, tangential, Seen.SEEN)


@pytest.mark.parametrize("value", [0.05, 1.4, float("nan")])
def test_gravity_that_no_wood_has_cannot_be_built(value: float) -> None:
    with pytest.raises(ValueError, match="specific gravity"):
        Gravity(value, Basis.GREEN, "test")
