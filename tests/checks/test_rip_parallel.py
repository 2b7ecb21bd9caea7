"""Rip parallel: boards fed along a fence that they leave, crooked edges; blunders made and nearly made."""

import math

import pytest
from tests.checks.drawn import arrows, paths
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_work import rip_parallel
from tests.worlds.rip import Rip

from trued.checks.rip_parallel import CHECK

GOOD = "lead=2.002 middle=2.001 trail=2.000 lead=2.003 middle=2.001 trail=2.001 lead=2.001 middle=2.001 trail=2.000"


def strips(rip: Rip, n: int = 3) -> str:
    one = " ".join(f"{name}={rip.width(s):.7f}" for name, s in (("lead", 0.0), ("middle", 12.0), ("trail", 24.0)))
    return " ".join([one] * n)


def test_worked_by_hand() -> None:
    """0.008, 0.010 and 0.009 of taper: 0.009 on the average; middles 2.008, 2.009, 2.008."""
    finding = run("rip-parallel", CHECK.example.given)
    assert estimate(finding, "rip-taper").value == pytest.approx(0.009 * 25.4)
    assert estimate(finding, "rip-repeat").value == pytest.approx(math.sqrt(1 / 3) * 0.001 * 25.4)
    assert estimate(finding, "rip-repeat").decision is None


@pytest.mark.parametrize("toe", [0.002, -0.002])
def test_a_fence_out_of_parallel_tapers_no_strip(toe: float) -> None:
    finding = run("rip-parallel", strips(Rip(2.0, 24.0, toe=toe)))
    assert estimate(finding, "rip-taper").value == pytest.approx(0.0, abs=1e-5)


@pytest.mark.parametrize(("lead_off", "trail_off"), [(0.0, 0.02), (0.02, 0.0)])
def test_where_the_edge_left_the_fence_the_strip_is_narrow(lead_off: float, trail_off: float) -> None:
    rip = Rip(2.0, 24.0, off_fence=lambda s: lead_off + (trail_off - lead_off) * s / 24.0)
    (move,) = run("rip-parallel", strips(rip, 6)).moves
    left_late = trail_off > 0.0
    assert ("trailing end is 0.0200 in narrower" in move.text) == left_late
    assert ("toward the end of the feed" in move.text) == left_late and move.amount_mm is None
    cured = Rip(2.0, 24.0)  # pressed to the fence all the way, as told
    assert abs(estimate(run("rip-parallel", strips(cured)), "rip-taper").value) < 1e-6


def test_a_hollow_edge_thins_the_middle_and_a_crowned_one_rolls_along() -> None:
    """A hollow edge rides on its two ends; a crowned one pressed at the blade keeps its distance there."""
    hollow = Rip(2.0, 24.0, 30.0, 30.0, edge=lambda s: -0.06 * (1 - (s / 12.0 - 1.0) ** 2))
    finding = run("rip-parallel", strips(hollow))
    seen = next(s for s in finding.seen if s.code == "stock-moved")
    assert seen.act == "doubt" and "thin in the middle by 0.0600 in" in seen.text and not finding.moves
    crowned = Rip(2.0, 24.0, 30.0, 30.0, edge=lambda s: 0.06 * (1 - (s / 12.0 - 1.0) ** 2))
    assert not codes(run("rip-parallel", strips(crowned)))


# --- blunders


def test_good_strips_warn_of_nothing() -> None:
    finding = run("rip-parallel", GOOD)
    assert not codes(finding) and not finding.moves
    assert {e.feature for e in run("rip-parallel", "lead=2 middle=2 trail=2").estimates} == {"rip-taper"}


def test_unit_slip() -> None:
    finding = run("rip-parallel", GOOD.replace("trail=2.001", "trail=50.83"))
    assert acts(finding)["unit-slip"] == "refuse" and "2.0012" in finding.refused[0].text
    assert "unit-slip" not in codes(run("rip-parallel", GOOD.replace("trail=2.001", "trail=47")))


def test_nothing_measured_is_refused() -> None:
    assert acts(run("rip-parallel", GOOD.replace("trail=2.001", "trail=0")))["no-size"] == "refuse"


def test_strips_of_two_settings() -> None:
    assert acts(run("rip-parallel", GOOD.replace("2.003", "2.073")))["other-setting"] == "doubt"
    assert "other-setting" not in codes(run("rip-parallel", GOOD.replace("2.003", "2.058")))


def test_a_middle_that_stands_out() -> None:
    fat = GOOD.replace("middle=2.001", "middle=2.010")
    assert acts(run("rip-parallel", fat))["stock-moved"] == "doubt"
    assert "fat" in next(s.text for s in run("rip-parallel", fat).seen if s.code == "stock-moved")
    assert "stock-moved" not in codes(run("rip-parallel", GOOD.replace("middle=2.001", "middle=2.0055")))


def test_tapers_that_differ() -> None:
    assert acts(run("rip-parallel", GOOD.replace("lead=2.003", "lead=2.014")))["unlike-tapers"] == "note"
    assert "unlike-tapers" not in codes(run("rip-parallel", GOOD.replace("lead=2.003", "lead=2.009")))


def test_a_fence_that_creeps() -> None:
    made = " ".join(f"lead={w} middle={w} trail={w}" for w in (2.000, 2.003, 2.006, 2.009, 2.012))
    finding = run("rip-parallel", made)
    assert acts(finding)["fence-creeps"] == "doubt"
    assert "wider one after the other, by 0.0030 in" in next(s.text for s in finding.seen if s.code == "fence-creeps")
    back = " ".join(f"lead={w} middle={w} trail={w}" for w in (2.012, 2.009, 2.006, 2.003, 2.000))
    assert "narrower" in next(s.text for s in run("rip-parallel", back).seen if s.code == "fence-creeps")
    near = " ".join(f"lead={w} middle={w} trail={w}" for w in (2.000, 2.003, 2.001, 2.004, 2.003))
    assert "fence-creeps" not in codes(run("rip-parallel", near))


def test_fraction_display() -> None:
    made = "lead=2.008 middle=2.016 trail=2.023 lead=2.031 middle=2.039 trail=2.047"
    assert acts(run("rip-parallel", made))["fraction-display"] == "doubt"
    assert "fraction-display" not in codes(run("rip-parallel", made.replace("2.023", "2.020")))


def test_cautions_stand_before_the_first_rip() -> None:
    assert {"knife", "insert-far-keeper", "rip-toe", "rip-fence-angle"} <= set(CHECK.ground)
    assert "Riving knife" in " ".join(CHECK.cautions) and "freehand" in " ".join(CHECK.cautions)


@pytest.mark.parametrize(("trail", "narrow"), [("1.990", "trailing"), ("2.010", "leading"), ("2.000", "leading")])
def test_drawings(trail: str, narrow: str) -> None:
    run_taken = taken("rip-parallel", f"lead=2.000 middle=2.000 trail={trail}")
    after = CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    assert f"{narrow} end is narrower" in after.told
    strip = paths(after, "strip")[0].points
    assert (strip[3][0] > strip[2][0]) == (trail == "1.990")
    assert len(arrows(after)) == (trail != "2.000")
    assert "went in first" in CHECK.draw(run_taken, ()).told


def test_coverage() -> None:
    held = coverage(rip_parallel, 400, seed=45)
    assert 0.92 <= held["rip-taper"] <= 0.98 and 0.92 <= held["rip-repeat"] <= 0.98
