"""Limits of rules, tapes and squares: against the tables as they were read, and values computed from them elsewhere."""

import csv
from pathlib import Path

import pytest

from trued.measure.instrument import DEFAULTS
from trued.measure.standard_limit import TAPE_CLASSES, mark_limit_mm, square_limit_mm, tape_limit_mm

DATA = Path(__file__).parents[1] / "data"


def rows(name: str) -> list[dict[str, str]]:
    lines = [line for line in (DATA / name).read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


@pytest.mark.parametrize("row", rows("mi008_tape_mpe.csv"), ids=lambda row: row["class"])
@pytest.mark.parametrize("metres", [1, 2, 5, 10])
def test_tapes_as_the_directive_has_them(row: dict[str, str], metres: int) -> None:
    """Directive 2014/32/EU, annex X (MI-008), table 1."""
    a, b, c = (float(row[key]) for key in ("a_mm", "b_mm_per_m", "c_mm"))
    assert tape_limit_mm(row["class"], 1000.0 * metres, from_hook=False) == pytest.approx(a + b * metres)
    assert tape_limit_mm(row["class"], 1000.0 * metres, from_hook=True) == pytest.approx(a + b * metres + c)


def test_all_classes_are_in_the_table() -> None:
    assert {row["class"] for row in rows("mi008_tape_mpe.csv")} == set(TAPE_CLASSES)


@pytest.mark.parametrize(
    ("metres", "plain", "hooked"),
    [(1, 0.5, 0.7), (2, 0.7, 0.9), (2.4, 0.9, 1.1), (3, 0.9, 1.1), (5, 1.3, 1.5), (8, 1.9, 2.1), (10, 2.3, 2.5)],
)
def test_a_class_ii_tape(metres: float, plain: float, hooked: float) -> None:
    """Directive 2014/32/EU, annex X, table 1, class II: 0.3 + 0.2 L, L up to the next metre, sums by hand; from the
    hook 0.2 mm more."""
    assert tape_limit_mm("II", 1000.0 * metres, from_hook=False) == pytest.approx(plain)
    assert tape_limit_mm("II", 1000.0 * metres, from_hook=True) == pytest.approx(hooked)


def test_a_length_begun_counts_as_a_whole_metre() -> None:
    assert tape_limit_mm("I", 1000.001, from_hook=False) == pytest.approx(0.3)
    assert tape_limit_mm("I", 999.9999999999, from_hook=False) == pytest.approx(0.2)


@pytest.mark.parametrize("name", ["I", "II", "III"])
def test_steps_between_marks(name: str) -> None:
    """MI-008, table 2."""
    fine, coarse = rows("mi008_interval_mpe.csv")
    assert mark_limit_mm(name, 1.0) == float(fine[name]) and mark_limit_mm(name, 10.0) == float(coarse[name])


@pytest.mark.parametrize(
    ("blade", "grades"),
    [(100, (3, 7, 15, 30)), (150, (3.5, 8, 17.5, 35)), (200, (4, 9, 20, 40)), (300, (5, 11, 25, 50))],
)
def test_squares_from_memory(blade: float, grades: tuple[float, ...]) -> None:
    """DIN 875: micrometres of grades 00, 0, 1, 2; from memory, no copy of the table was seen."""
    found = [1000.0 * square_limit_mm(grade, blade) for grade in ("00", "0", "1", "2")]
    assert found == pytest.approx(grades)


def test_what_is_not_known_is_refused() -> None:
    with pytest.raises(ValueError, match="known are I, II, III"):
        tape_limit_mm("IV", 1000.0, from_hook=False)
    with pytest.raises(ValueError, match="above 0"):
        tape_limit_mm("I", 0.0, from_hook=False)
    with pytest.raises(ValueError, match="from 0 to 10 mm"):
        mark_limit_mm("I", 20.0)
    with pytest.raises(ValueError, match="longer than 0"):
        square_limit_mm("1", 0.0)


def test_what_is_assumed_of_a_tape_and_a_square_is_near_a_class() -> None:
    """The defaults are common practice; their source names the class that they are near to."""
    assert DEFAULTS["tape"].limit == pytest.approx(tape_limit_mm("II", 2000.0, from_hook=True), abs=0.15)
    assert DEFAULTS["square"].limit == pytest.approx(square_limit_mm("2", 100.0))
    assert all("your instrument's own figures" in instrument.source for instrument in DEFAULTS.values())
    assert "class II" in DEFAULTS["rule"].source and "ISO 13385-1" in DEFAULTS["caliper"].source
