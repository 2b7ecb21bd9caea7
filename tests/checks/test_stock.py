"""Stock: a crooked edge as an arc of a circle, wet and dry spots; blunders made and nearly made."""

import math
import re

import pytest
from tests.checks.drawn import arrows
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_work import stock
from tests.worlds.board import Edge

from trued.checks.stock import CHECK, left_in_part_mm

THICK = "thickness=0.742 thickness=0.744 thickness=0.741 thickness=0.743 thickness=0.742 thickness=0.740"
DRY = "moisture=8.0 moisture=9.0 moisture=8.5"
GOOD = f"{THICK} crook=0.004 crook_length=48 cup=0.004 twist=0 {DRY} meter_set=yes"


def test_worked_by_hand() -> None:
    """1/32 in over 48 is 0.0026 rad, 1/32 in per foot: 26 times a fence that is out by 0.0001."""
    finding = run("stock", f"{THICK} crook=1/32 crook_length=48")
    edge = estimate(finding, "stock-edge").value
    assert edge == pytest.approx(0.0026, abs=1e-5) and 12 * edge == pytest.approx(1 / 32)
    assert round(edge / 0.0001) == 26
    (move,) = finding.moves
    assert "No fence and no screw fixes this" in move.text and move.amount_mm == pytest.approx(25.4 / 32)


def test_what_is_left_of_a_crook_in_a_short_part_worked_by_hand() -> None:
    """1/16 in 60 leaves 0.0056 in a part of 18."""
    assert left_in_part_mm(25.4 / 16, 60 * 25.4, 18 * 25.4) == pytest.approx(0.0056 * 25.4, abs=0.002)
    seen = run("stock", f"{THICK} crook=1/16 crook_length=60", part="18").seen
    assert "0.0056 in of the crook is left" in next(s.text for s in seen if s.code == "part-crook")
    assert Edge(60.0, 1 / 16).part(18.0) == pytest.approx(0.0056, abs=5e-5)


@pytest.mark.parametrize("hollow", [0.06, -0.06])
@pytest.mark.parametrize("length", [24.0, 72.0])
def test_the_end_of_an_arc_lies_as_told(hollow: float, length: float) -> None:
    edge = Edge(length, hollow)
    found = estimate(run("stock", f"{THICK} crook={hollow} crook_length={length}"), "stock-edge")
    assert found.value == pytest.approx(edge.end_angle(), rel=2e-3)


@pytest.mark.parametrize("hollow", [0.06, -0.06])
@pytest.mark.parametrize("response", [0.7, 1.0, 1.3])
def test_the_edge_planed_as_told_is_straight(hollow: float, response: float) -> None:
    edge = Edge(60.0, hollow)
    for _ in range(2):
        given = f"{THICK} crook={edge.hollow:.6f} crook_length=60"
        move = next(m for m in CHECK.moves(taken("stock", given), run("stock", given).founds) if m.where == "edge")
        assert move.amount_mm is not None
        after = edge.planed(response * move.amount_mm / 25.4, ends="two ends" in move.text)
        edge = Edge(60.0, after[10] - (after[0] + after[20]) / 2.0)
    assert abs(edge.hollow) < 0.1 * abs(hollow)


def test_thickness_has_no_tolerance_and_evenness_has() -> None:
    finding = run("stock", THICK)
    assert estimate(finding, "stock-thickness").decision is None
    assert estimate(finding, "stock-even").value == pytest.approx(math.sqrt(1e-5 / 5) * 25.4)
    uneven = " ".join(f"thickness=0.7{n}" for n in (30, 45, 60, 38, 52, 66))
    assert "to one thickness" in run("stock", uneven).moves[0].text


def test_cup_and_twist() -> None:
    finding = run("stock", f"{THICK} cup=-0.060 cup=-0.061 twist=3/32 twist=3/32")
    assert {m.feature for m in finding.moves} == {"stock-cup", "stock-twist"}
    assert estimate(finding, "stock-cup").value == pytest.approx(-0.0605 * 25.4)


def test_moisture_is_a_number_with_the_meter_s_own_error() -> None:
    """Spots that differ by 0.5 % (two degrees of freedom) and 0.4 % taken for usual (four) make one scatter."""
    found = estimate(run("stock", GOOD), "stock-moisture")
    assert found.value == pytest.approx(8.5) and found.unit == "%"
    assert found.u == pytest.approx(math.sqrt((4 * 0.16 + 2 * 0.25) / 6 / 3 + 1 / 3))


# --- blunders


def test_a_good_board_warns_of_nothing() -> None:
    assert not codes(run("stock", GOOD))


def test_moisture_that_varies_gives_a_range_and_no_number() -> None:
    finding = run("stock", GOOD.replace("moisture=9.0", "moisture=10.1"))
    assert acts(finding)["moisture-uneven"] == "note"
    assert "from 8.0 to 10.1 %" in next(s.text for s in finding.seen if s.code == "moisture-uneven")
    assert "stock-moisture" not in {e.feature for e in finding.estimates}
    assert "moisture-uneven" not in codes(run("stock", GOOD.replace("moisture=9.0", "moisture=10.0")))


def test_a_meter_that_was_not_set() -> None:
    assert acts(run("stock", GOOD.replace("yes", "no")))["meter-not-set"] == "note"


def test_a_name_typed_for_a_thickness() -> None:
    named = " ".join(["thickness=3/4"] * 6)
    assert acts(run("stock", named))["nominal"] == "doubt"
    assert "nominal" in codes(run("stock", " ".join(["thickness=18mm"] * 4)))
    assert "nominal" not in codes(run("stock", named.replace("thickness=3/4", "thickness=0.751", 1)))
    assert "nominal" not in codes(run("stock", " ".join(["thickness=0.742"] * 6)))


def test_unit_slip() -> None:
    finding = run("stock", THICK.replace("0.744", "18.85"))
    assert acts(finding)["unit-slip"] == "refuse" and "0.7421" in finding.refused[0].text
    assert "unit-slip" not in codes(run("stock", THICK.replace("0.744", "17.5")))


def test_half_of_a_crook_is_refused() -> None:
    assert acts(run("stock", f"{THICK} crook=0.01"))["unpaired"] == "refuse"
    assert "unpaired" in codes(run("stock", f"{THICK} crook_length=48"))


def test_nothing_measured_is_refused() -> None:
    assert acts(run("stock", f"{THICK} crook=0.01 crook_length=0", part="18"))["no-size"] == "refuse"


def test_a_part_longer_than_the_string() -> None:
    assert acts(run("stock", GOOD, part="60"))["part-crook"] == "doubt"
    assert acts(run("stock", GOOD, part="47"))["part-crook"] == "note"
    assert "part-crook" not in codes(run("stock", THICK, part="60"))


def test_fraction_display() -> None:
    made = "thickness=0.742 thickness=0.750 thickness=0.758 thickness=0.766"
    assert acts(run("stock", made))["fraction-display"] == "doubt"
    assert "fraction-display" not in codes(run("stock", made.replace("0.758", "0.755")))


@pytest.mark.parametrize(("crook", "words"), [("0.06", "two ends"), ("-0.06", "the middle"), ("", "thick")])
def test_drawings(crook: str, words: str) -> None:
    run_taken = taken("stock", f"{THICK} crook={crook} crook_length=48" if crook else THICK)
    after = CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    assert words in after.told and re.search("string", CHECK.draw(run_taken, ()).told)
    assert len(arrows(after)) == {"two ends": 2, "the middle": 1}.get(words, 0)


def test_coverage() -> None:
    held = coverage(stock, 200, seed=43)
    assert set(held) == set(CHECK.names)
    assert all(0.90 <= share <= 0.995 for share in held.values()), held
