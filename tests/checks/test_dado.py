"""Dado: grooves that are really cut pass by pass, shelves that differ; blunders made and nearly made."""

import numpy as np
import pytest
from tests.checks.drawn import arrows
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_work import dado
from tests.worlds.groove import Groove

from trued.checks.dado import CHECK, larger, passes
from trued.measure.decision import ToleranceLimits

INCH = 25.4
GOOD = "groove=0.7460 groove=0.7465 groove=0.7460 shelf=0.7420 shelf=0.7415 shelf=0.7425"


def test_worked_by_hand() -> None:
    """0.746 less 0.742 is 0.004, in the middle of what slides by hand."""
    found = estimate(run("dado", "groove=0.746 groove=0.746 groove=0.746 shelf=0.742"), "dado-fit")
    assert found.value == pytest.approx(0.004 * INCH)
    assert found.limits == ToleranceLimits(0.002 * INCH, 0.006 * INCH)


def test_seven_passes_worked_by_hand() -> None:
    """A groove of 0.746 with a kerf of 0.125, at most 0.115 a pass: 7 passes at 0.1035; with 0.094 it takes 9."""
    plan = passes(0.746 * INCH, 0.125 * INCH)
    assert plan.count == 7 and plan.step_mm == pytest.approx(0.1035 * INCH)
    assert passes(0.746, 0.094).count == 9
    assert passes(0.125, 0.125) == passes(0.1, 0.125) and passes(0.125, 0.125).count == 1


@pytest.mark.parametrize("kerf", [0.087, 0.094, 0.125])
@pytest.mark.parametrize("width", [0.2, 0.4375, 0.746, 1.01])
def test_the_passes_leave_no_ridge_and_make_the_width(kerf: float, width: float) -> None:
    plan = passes(width, kerf)
    groove = Groove.cut(kerf, plan.count, plan.step_mm)
    assert groove.width == pytest.approx(width) and not groove.ridges
    if plan.count > 2:
        assert (width - kerf) / (plan.count - 2) > 0.9 * kerf - 1e-12  # one pass fewer would move on by too much


@pytest.mark.parametrize("response", [0.7, 1.0, 1.3])
def test_a_tight_groove_widened_as_told_fits(response: float) -> None:
    groove, shelf = Groove.cut(0.125, 7, 0.1025), 0.7425
    assert groove.width < shelf
    for _ in range(2):
        typed = f"groove={groove.width:.6f} groove={groove.width:.6f} shelf={shelf}"
        finding = run("dado", typed)
        (move,) = CHECK.moves(taken("dado", typed), finding.founds)
        if move.direction != "wider":
            break
        assert move.amount_mm is not None and "one more pass" in move.text
        groove.one_more(response * move.amount_mm / INCH)
    assert 0.002 <= groove.width - shelf <= 0.0061


def test_a_loose_groove_is_filled_and_the_next_is_narrower() -> None:
    typed = "groove=0.760 groove=0.760 groove=0.760 shelf=0.742"
    (move,) = run("dado", typed, marked="0.125").moves
    assert move.direction == "narrower" and move.amount_mm == pytest.approx(0.014 * INCH)
    assert "Glue a shaving of 0.0140 in" in move.text and "0.7460 in takes 7 passes" in move.text
    assert "of this blade" not in run("dado", typed).moves[0].text
    assert "takes one pass" in run("dado", "groove=0.13 groove=0.13 shelf=0.116", marked="0.125").moves[0].text


@pytest.mark.parametrize(
    ("limits", "aim"),
    [(ToleranceLimits(0.1, None), 0.1), (ToleranceLimits(None, 0.1), 0.1), (ToleranceLimits(0.1, 0.3), 0.2)],
)
def test_an_own_tolerance_moves_the_aim(limits: ToleranceLimits, aim: float) -> None:
    from trued.procedure import take

    typed = take(CHECK, ["groove=20mm", "shelf=19.5mm"], limits={"dado-fit": limits})
    assert CHECK.moves(typed, CHECK.evaluate(typed))[0].amount_mm == pytest.approx(0.5 - aim)


def test_the_thickest_shelf_decides() -> None:
    alone = estimate(run("dado", GOOD), "dado-fit").value
    thicker = estimate(run("dado", GOOD.replace("0.7425", "0.7520")), "dado-fit")
    assert thicker.value < alone - 0.2 and thicker.value == pytest.approx((0.7462 - 0.7520) * INCH, abs=0.02)
    assert thicker.decision == "proven-out"


def test_the_larger_of_two_normals() -> None:
    """Two standard normals: the larger has mean 1/sqrt(pi), variance 1 - 1/pi (exact)."""
    mean, variance = larger(0.0, 1.0, 0.0, 1.0)
    assert mean == pytest.approx(np.pi**-0.5) and variance == pytest.approx(1.0 - 1.0 / np.pi)
    assert larger(10.0, 1.0, 0.0, 1.0) == pytest.approx((10.0, 1.0))


def test_depth_that_varies() -> None:
    deep = "depth=0.250 depth=0.262 depth=0.240 depth=0.271 depth=0.250 depth=0.236 depth=0.268"
    finding = run("dado", f"{GOOD} {deep}")
    assert [m.feature for m in finding.moves] == ["dado-depth"] and "pressed down" in finding.moves[0].text
    even = "depth=0.250 depth=0.251 depth=0.250 depth=0.251 depth=0.250"
    assert estimate(run("dado", f"{GOOD} {even}"), "dado-depth").decision == "proven-in"


# --- blunders


def test_good_readings_warn_of_nothing() -> None:
    assert not codes(run("dado", f"{GOOD} same_sheet=yes", marked="0.125"))


def test_unit_slip() -> None:
    finding = run("dado", GOOD.replace("shelf=0.7425", "shelf=18.86"))
    assert acts(finding)["unit-slip"] == "refuse" and "0.7425" in finding.refused[0].text
    metric = run("dado", "groove=19.0 shelf=0.742", unit="mm")
    assert "unit-slip" in codes(metric) and "18.85" in metric.refused[0].text
    assert "unit-slip" not in codes(run("dado", GOOD.replace("shelf=0.7425", "shelf=17.5")))


def test_nothing_measured_is_refused() -> None:
    assert acts(run("dado", "groove=0 shelf=0.742"))["no-size"] == "refuse"


def test_a_name_typed_for_a_shelf() -> None:
    assert acts(run("dado", "groove=0.746 shelf=3/4 shelf=3/4"))["nominal"] == "doubt"
    assert "nominal" not in codes(run("dado", "groove=0.746 shelf=3/4 shelf=0.749"))


def test_the_wrong_joint() -> None:
    assert acts(run("dado", "groove=0.746 shelf=0.50"))["other-joint"] == "doubt"
    assert "of room" in next(s.text for s in run("dado", "groove=0.746 shelf=0.5").seen if s.code == "other-joint")
    assert "too thick" in next(s.text for s in run("dado", "groove=0.5 shelf=0.7").seen if s.code == "other-joint")
    assert "other-joint" not in codes(run("dado", "groove=0.746 shelf=0.64"))


def test_narrower_than_a_kerf() -> None:
    assert acts(run("dado", "groove=0.115 shelf=0.110", marked="0.125"))["narrower-than-kerf"] == "doubt"
    assert "narrower-than-kerf" not in codes(run("dado", "groove=0.122 shelf=0.118", marked="0.125"))


def test_an_uneven_groove() -> None:
    assert acts(run("dado", "groove=0.746 groove=0.7505 shelf=0.742"))["groove-uneven"] == "note"
    assert "groove-uneven" not in codes(run("dado", "groove=0.746 groove=0.750 shelf=0.742"))


def test_another_sheet() -> None:
    assert acts(run("dado", f"{GOOD} same_sheet=no"))["other-sheet"] == "note"


def test_fraction_display() -> None:
    made = "groove=0.742 groove=0.750 shelf=0.758 shelf=0.766"
    assert acts(run("dado", made))["fraction-display"] == "doubt"
    assert "fraction-display" not in codes(run("dado", made.replace("0.758", "0.755")))


@pytest.mark.parametrize(
    ("shelf", "words", "moves"),
    [("0.749", "too thick by", 1), ("0.73", "Glue a shaving", 0), ("0.742", "has room of", 0)],
)
def test_drawings(shelf: str, words: str, moves: int) -> None:
    run_taken = taken("dado", f"groove=0.746 shelf={shelf}")
    after = CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    assert words in after.told and len(arrows(after)) == moves
    assert any(shape.role == "move" for shape in after.shapes) == (shelf != "0.742")
    assert "inside jaws" in CHECK.draw(run_taken, ()).told


def test_coverage() -> None:
    held = coverage(dado, 500, seed=44)
    assert 0.92 <= held["dado-fit"] <= 0.97 and 0.925 <= held["dado-depth"] <= 0.975
