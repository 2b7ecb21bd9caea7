"""Caliper and tape against jaws that lean and a hook that slides; blunders made and nearly made."""

import math

import numpy as np
import pytest
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_work import caliper_itself
from tests.worlds.jaws import Jaws, Tape, tilted

from trued.checks.caliper import CHECK
from trued.measure.distribution.standard_deviation import EstimatedSd

CLOSED = "closed=0.000 closed=0.0005 closed=0.000 closed=0.0005 closed=0.000"
EDGE = "edge=0.7425 edge=0.7430 edge=0.7420 edge=0.7425 edge=0.7430"
KNOWN = "marked=0.5 known=0.5000 known=0.5005 known=0.5000 known=0.5000 known=0.5005"
GOOD = f"{CLOSED} {EDGE} {KNOWN} light=no"
TAPE = "hook_pull=36 hook_pull=36 hook_push=36 hook_push=36 from_line=36 from_line=36"


def test_worked_by_hand() -> None:
    """Mean of 0, 5, 0, 5, 0 ten-thousandths is 2; of the edge the squares sum to 70e-8 over 4: 0.00042."""
    finding = run("caliper", f"{CLOSED} {EDGE}")
    assert estimate(finding, "caliper-zero").value == pytest.approx(0.0002 * 25.4)
    assert estimate(finding, "caliper-repeat").value == pytest.approx(math.sqrt(70e-8 / 4) * 25.4)
    assert set(CHECK.names) > {e.feature for e in finding.estimates}


def test_tilted_by_two_degrees_an_inch_reads_0_0006_more() -> None:
    """Worked by hand: 1 / cos 2 degrees."""
    assert tilted(1.0, math.radians(2.0)) - 1.0 == pytest.approx(0.0006, abs=2e-5)
    assert any("0.0006 in" in step.text for step in CHECK.steps)


def test_the_range_of_five_over_2_33_is_the_same_scatter() -> None:
    """The sum of the trade, range / 2.33, and the standard deviation tell the same on the average (d2 = 2.326)."""
    draws = np.random.default_rng(7).normal(0.0, 1.0, (40_000, 5))
    assert (np.ptp(draws, axis=1) / 2.33).mean() == pytest.approx(1.0, abs=0.01)


def typed_of(jaws: Jaws, tape: Tape) -> str:
    """Read without any scatter."""
    parts = [f"closed={jaws.closed():.7f}"] * 3 + [f"edge={jaws.over(0.75, 0.7):.7f}"] * 3 + ["marked=0.5"]
    parts += [f"known={jaws.over(0.5, 0.7):.7f}"] * 3 + [f"tip={jaws.over(0.5, 1.5):.7f}"] * 2
    parts += [f"root={jaws.over(0.5, 0.0):.7f}"] * 2
    pairs = (("hook_pull", tape.hooked), ("hook_push", tape.pushed), ("from_line", tape.from_line))
    return " ".join([*parts, *(f"{name}={what(40.0):.7f}" for name, what in pairs)])


@pytest.mark.parametrize("zero", [0.003, -0.002])
@pytest.mark.parametrize("worn", [0.004, -0.004])
def test_signs_of_zero_scale_and_jaws(zero: float, worn: float) -> None:
    jaws = Jaws(zero, 1.002, worn)
    finding = run("caliper", typed_of(jaws, Tape()))
    assert estimate(finding, "caliper-zero").value == pytest.approx(jaws.closed() * 25.4, abs=1e-5)
    assert estimate(finding, "caliper-jaws").value == pytest.approx(worn * 25.4, abs=1e-5)
    scale = jaws.over(0.5, 0.7) - jaws.closed() - 0.5
    assert estimate(finding, "caliper-scale").value == pytest.approx(scale * 25.4, abs=1e-5)
    moves = {move.feature: move for move in finding.moves}
    assert ("Closed, it reads" in moves["caliper-zero"].text) and moves["caliper-zero"].amount_mm is not None
    assert ("too much" in moves["caliper-zero"].text) == (jaws.closed() > 0)
    assert ("more than near the beam" in moves["caliper-jaws"].text) == (worn > 0)


@pytest.mark.parametrize(("pulled", "slides"), [(0.0, 0.10), (0.06, 0.04), (-0.06, 0.04), (0.0, 0.0)])
def test_signs_of_the_tape(pulled: float, slides: float) -> None:
    tape = Tape(pulled, slides)
    finding = run("caliper", typed_of(Jaws(), tape))
    assert estimate(finding, "tape-hook").value == pytest.approx((slides - 0.04) * 25.4, abs=1e-5)
    assert estimate(finding, "tape-start").value == pytest.approx(pulled * 25.4, abs=1e-5)
    moves = {move.feature: move.text for move in CHECK.moves(taken("caliper", typed_of(Jaws(), tape)), finding.founds)}
    assert ("more than pulled" in moves["tape-hook"]) == (slides > 0.04)
    assert ("more than from a line" in moves["tape-start"]) == (pulled > 0)


def test_setting_the_zero_as_told_takes_it_away() -> None:
    jaws = Jaws(zero=0.0031)
    (move,) = run("caliper", typed_of(jaws, Tape())).moves
    assert move.amount_mm is not None and move.direction == "down"
    jaws.zero -= move.amount_mm / 25.4
    assert abs(jaws.closed()) < 1e-6


def test_a_caliper_that_wanders_is_read_more_often() -> None:
    """Twice the allowed scatter takes four readings: the mean of n is better by the root of n."""
    edge = " ".join(f"edge={0.742 + 0.002 * (-1) ** n}" for n in range(12))
    finding = run("caliper", f"{CLOSED} {edge}")
    (move,) = finding.moves
    s = estimate(finding, "caliper-repeat").value / 25.4
    assert s == pytest.approx(0.002 * math.sqrt(12 / 11)) and "every spot 5 times" in move.text


def test_a_good_caliper_is_proven_at_once() -> None:
    edge = " ".join(f"edge=0.742{5 + n % 2}" for n in range(8))
    closed = " ".join(["closed=0.0000"] * 5)
    assert {e.decision for e in run("caliper", f"{closed} {edge} {KNOWN}").estimates} == {"proven-in"}


def test_the_found_scatter_is_that_of_the_edge_alone() -> None:
    found = next(f for f in run("caliper", GOOD).founds if f.feature == "caliper-repeat")
    assert found.spread == EstimatedSd(found.value.value, 4)


# --- blunders


def test_good_readings_warn_of_nothing() -> None:
    assert not codes(run("caliper", f"{GOOD} {TAPE}"))


def test_unit_slip() -> None:
    finding = run("caliper", GOOD.replace("known=0.5000 known=0.5005", "known=12.70 known=0.5005"))
    assert acts(finding)["unit-slip"] == "refuse" and "0.5000" in finding.refused[0].text
    assert acts(run("caliper", GOOD.replace("edge=0.7430", "edge=18.87")))["unit-slip"] == "refuse"
    assert "unit-slip" in codes(run("caliper", f"{GOOD} {TAPE.replace('from_line=36', 'from_line=914.4')}"))
    assert "unit-slip" in codes(run("caliper", f"{GOOD} tip=0.5 tip=0.5 root=12.7 root=12.7"))
    assert "unit-slip" not in codes(run("caliper", GOOD.replace("edge=0.7430", "edge=17.9")))  # 24.1, 5 % away


def test_nothing_is_nought_but_the_closed_jaws() -> None:
    assert acts(run("caliper", GOOD.replace("edge=0.7430", "edge=0")))["no-size"] == "refuse"
    assert "no-size" not in codes(run("caliper", GOOD))


@pytest.mark.parametrize(("line", "said"), [("46", "10 in longer"), ("37", "1 in longer"), ("26.02", "10 in shorter")])
def test_burned_inch(line: str, said: str) -> None:
    finding = run("caliper", f"{GOOD} hook_pull=36 from_line={line}")
    assert acts(finding)["burned-inch"] == "doubt" and not finding.moves
    assert said in next(s.text for s in finding.seen if s.code == "burned-inch")
    assert "burned-inch" not in codes(run("caliper", f"{GOOD} hook_pull=36 from_line=36.8"))


def test_fraction_display() -> None:
    made = f"{CLOSED} edge=0.742 edge=0.750 edge=0.758 edge=0.766"
    assert acts(run("caliper", made))["fraction-display"] == "doubt"
    assert "fraction-display" not in codes(run("caliper", made.replace("0.758", "0.756")))


def test_light_between_the_jaws() -> None:
    finding = run("caliper", GOOD.replace("light=no", "light=yes"))
    assert acts(finding)["light-in-jaws"] == "doubt"
    assert "proven-in" not in {e.decision for e in finding.estimates}


def test_a_zero_that_was_not_set() -> None:
    """Fatal for lengths, harmless for differences: the sentence says which."""
    off = GOOD.replace("closed=0.000", "closed=0.0025").replace("closed=0.00255", "closed=0.0025")
    finding = run("caliper", off)
    seen = next(s for s in finding.seen if s.code == "not-zeroed")
    assert seen.act == "note" and "too much" in seen.text and "a kerf is not" in seen.text
    assert finding.moves[0].feature == "caliper-zero"
    assert "not-zeroed" not in codes(run("caliper", GOOD.replace("closed=0.000 ", "closed=0.0005 ")))
    less = run("caliper", off.replace("closed=0.0025", "closed=-0.0025"))
    assert "too little" in next(s.text for s in less.seen if s.code == "not-zeroed")


def test_a_zero_that_wanders() -> None:
    assert acts(run("caliper", GOOD.replace("closed=0.0005", "closed=0.0015")))["zero-wanders"] == "note"
    assert "zero-wanders" not in codes(run("caliper", GOOD.replace("closed=0.0005", "closed=0.0010")))


def test_an_edge_that_is_crushed() -> None:
    crushed = " ".join(f"edge={0.7430 - 0.0008 * n:.4f}" for n in range(5))
    assert acts(run("caliper", f"{CLOSED} {crushed}"))["crushed-edge"] == "doubt"
    rising = " ".join(f"edge={0.7430 + 0.0008 * n:.4f}" for n in range(5))
    assert "crushed-edge" not in codes(run("caliper", f"{CLOSED} {rising}"))
    near = "edge=0.7430 edge=0.7422 edge=0.7426 edge=0.7418 edge=0.7421"
    assert "crushed-edge" not in codes(run("caliper", f"{CLOSED} {near}"))
    assert "crushed-edge" not in codes(run("caliper", f"{CLOSED} edge=0.743 edge=0.742 edge=0.741"))


@pytest.mark.parametrize(("closed", "told"), [("0.002", "too much"), ("-0.002", "too little"), ("0", "off")])
def test_drawings(closed: str, told: str) -> None:
    run_taken = taken("caliper", f"closed={closed} closed={closed} closed={closed} {EDGE}")
    after = CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    assert told in after.told and "tips" in CHECK.draw(run_taken, ()).told
    assert any(shape.role == "move" for shape in after.shapes) == (told != "off")


def test_coverage() -> None:
    held = coverage(caliper_itself, 250, seed=41)
    assert set(held) == set(CHECK.names)
    assert all(0.90 <= share <= 0.99 for share in held.values()), held
