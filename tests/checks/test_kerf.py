"""Kerf: the sum, its one limit of error, and readings that cannot be."""

import math

import pytest
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated import kerf

from trued.checks.kerf import CHECK
from trued.units import Unit

WORKED = "whole=24.000 keeper_piece=11.874 offcut_piece=12.001"
SHORT = "whole=5.000 keeper_piece=2.400 offcut_piece=2.506"  # a thin blade: 0.094


def test_worked_by_hand() -> None:
    """24.000 - (11.874 + 12.001) = 0.125; nothing is decided, nothing is turned."""
    finding = run("kerf", WORKED)
    found = estimate(finding, "kerf")
    assert found.value == pytest.approx(0.125 * 25.4, rel=1e-12)
    assert found.unit == "mm" and found.limits is None and found.decision is None and not finding.moves
    assert CHECK.moves(taken("kerf", WORKED), finding.founds) == ()


def test_the_limit_of_error_stays_in_once() -> None:
    """One caliper reads all three: its error enters as 1 - 1 - 1 = -1, so once, and each reading's scatter thrice."""
    (found,) = CHECK.evaluate(taken("kerf", SHORT))
    limit = {c.label: c.u for c in found.value.components}["caliper: limit of error"]
    assert limit == pytest.approx(0.02 / math.sqrt(3), rel=1e-12)
    assert {c.label: c.u for c in found.value.components}["caliper: repeat of a reading"] == pytest.approx(
        0.025 * math.sqrt(3), rel=1e-12
    )


def test_a_good_run_warns_of_nothing() -> None:
    assert not codes(run("kerf", SHORT, plate="0.067", marked="0.094"))


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        (SHORT.replace("2.400", "60.96"), "2.4000"),
        (SHORT.replace("5.000", "127.0"), "5.0000"),
        (SHORT.replace("2.506", "63.65"), "2.5059"),
    ],
)
def test_unit_slip_names_the_reading(typed: str, meant: str) -> None:
    finding = run("kerf", typed)
    assert acts(finding) == {"unit-slip": "refuse"} and meant in finding.refused[0].text


def test_unit_slip_in_a_metric_book() -> None:
    finding = run("kerf", "whole=127.0 keeper_piece=2.4 offcut_piece=63.65", "mm")
    assert "unit-slip" in codes(finding) and "60.96" in finding.refused[0].text


def test_burned_inch_is_refused() -> None:
    assert acts(run("kerf", SHORT.replace("2.400", "3.400"))) == {"burned-inch": "refuse"}
    assert acts(run("kerf", SHORT.replace("5.000", "6.000"))) == {"burned-inch": "refuse"}
    assert acts(run("kerf", "whole=127 keeper_piece=61 offcut_piece=73.6", "mm")) == {"burned-inch": "refuse"}


def test_ten_millimetres_are_told_in_inches_in_an_inch_book() -> None:
    """5 - 2.4 - 2.506 is a kerf of 0.094 in; 0.394 in more is the whole read from the 10 mm line of a rule."""
    (seen,) = (s for s in run("kerf", SHORT.replace("5.000", "5.394")).seen if s.code == "burned-inch")
    assert "0.394 in (10 mm) off" in seen.text


def test_a_thick_kerf_is_no_burned_inch() -> None:
    assert not codes(run("kerf", SHORT.replace("2.400", "2.250")))  # 0.244, a groover


def test_pieces_longer_than_the_whole_are_refused() -> None:
    assert acts(run("kerf", "whole=5.000 keeper_piece=2.500 offcut_piece=2.520")) == {"no-kerf": "refuse"}
    assert acts(run("kerf", "whole=0 keeper_piece=0 offcut_piece=0")) == {"no-kerf": "refuse"}
    assert "no-kerf" not in codes(run("kerf", "whole=5.000 keeper_piece=2.490 offcut_piece=2.500"))


def test_less_than_the_plate_cannot_be() -> None:
    assert acts(run("kerf", SHORT, plate="0.100"))["under-plate"] == "doubt"
    assert "under-plate" not in codes(run("kerf", SHORT, plate="0.0935"))


def test_over_the_marked_kerf() -> None:
    assert acts(run("kerf", SHORT, marked="0.070"))["over-marked"] == "doubt"
    assert acts(run("kerf", SHORT, marked="0.080")) == {"wobble": "note"}
    assert not codes(run("kerf", SHORT, marked="0.0845"))


def test_fraction_display() -> None:
    """640, 307 and 322 of 1/128 in to three digits, and a repeat one step on."""
    made = "whole=5.000 keeper_piece=2.398 offcut_piece=2.516 offcut_piece=2.508"
    assert acts(run("kerf", made))["fraction-display"] == "doubt"
    assert "fraction-display" not in codes(run("kerf", made.replace("2.398", "2.402")))


@pytest.mark.parametrize(("unit", "kerf_said"), [("in", "0.0940 in"), ("mm", "0.09 mm")])
def test_drawing(unit: Unit, kerf_said: str) -> None:
    run_taken = taken("kerf", SHORT, unit)
    before, after = CHECK.draw(run_taken, ()), CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    assert "the whole less the piece" in before.told and kerf_said in after.told


def test_coverage() -> None:
    assert 0.93 <= coverage(kerf, 1000, seed=21)["kerf"] <= 0.97
