"""Fence upright: a block that is out of square itself shows the fence's lean all the same, when it is turned about."""

import pytest
from tests.checks.drawn import arrows
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_fence import fence_upright
from tests.worlds.upright import Block, Face

from trued.checks.fence_upright import CHECK
from trued.procedure import RunInput

WORKED = "block@bottom=2.000 block@top=2.000 height=3 first@top=0.006 turned@top=0.002"
SQUARE = Block([(0.0, 0.0), (2.0, 0.0), (2.0, 4.0), (0.0, 4.0)])
OUT = Block([(0.0, 0.0), (2.0, 0.01), (2.012, 4.0), (0.012, 4.0)])  # leans one way, its foot another
WEDGE = Block([(0.0, 0.0), (2.0, 0.0), (2.003, 4.0), (-0.001, 4.0)])  # thicker at its top


def readings_of(block: Block, face: Face, again: Block | None = None) -> list[str]:
    typed = [f"block@bottom={block.thickness(0.1):.7f}", f"block@top={block.thickness(3.1):.7f}", "height=3"]
    for name, one in (("first", block), ("turned", again or block.turned_about())):
        top, bottom = one.gaps(face, 0.1, 3.1)
        typed.append(f"{name}@top={top:.7f}" if top > 0.0 else f"{name}@bottom={bottom:.7f}")
    return typed


# --- reversal, on blocks that are really stood


@pytest.mark.parametrize("lean", [0.003, -0.002, 0.0])
@pytest.mark.parametrize("block", [SQUARE, OUT, WEDGE])
def test_the_fence_s_lean_is_found_with_any_block(lean: float, block: Block) -> None:
    found = estimate(run("fence-upright", readings_of(block, Face(lean))), "fence-upright")
    assert found.value == pytest.approx(lean, abs=2e-5)


def test_rolling_it_over_cancels_nothing() -> None:
    """Opposite corners of a block with parallel faces are alike: rolled upside down it shows the same gap."""
    slanted = Block([(0.0, 0.0), (2.0, 0.0), (2.012, 4.0), (0.012, 4.0)])
    assert slanted.rolled().gaps(Face(0.0), 0.1, 3.1) == pytest.approx(slanted.gaps(Face(0.0), 0.1, 3.1), abs=1e-9)
    wrong = run("fence-upright", readings_of(slanted, Face(0.0), slanted.rolled()))
    assert estimate(wrong, "fence-upright").value == pytest.approx(0.003, rel=0.01)


@pytest.mark.parametrize("lean", [0.0033, -0.0033])
@pytest.mark.parametrize("response", [0.7, 1.3])
def test_two_shims_stand_it_upright(lean: float, response: float) -> None:
    for _ in range(2):
        one = taken("fence-upright", readings_of(OUT, Face(lean)), tall="3.5")
        for move in CHECK.moves(one, CHECK.evaluate(one)):
            assert move.amount_mm is not None
            shim = response * move.amount_mm / 25.4 / 3.5
            lean += -shim if "behind its top" in move.text else shim  # behind the top it brings the top over the work
    assert abs(lean) < 0.002 / 3


# --- the sum


def test_worked_by_hand() -> None:
    """(0.006 + 0.002) / (2 × 3) = 0.00133, the tolerance is 0.002 over 3; at 3 1/2 in high the shim is 0.0047."""
    finding = run("fence-upright", WORKED)
    found = estimate(finding, "fence-upright")
    assert found.value == pytest.approx(0.008 / 6, rel=1e-12) and found.decision == "proven-out"
    (move,) = finding.moves
    assert move.amount_mm is None and "0.0040 in for every 3.00 in" in move.text and move.direction == "in"
    (move,) = run("fence-upright", WORKED, tall="3.5").moves
    assert move.amount_mm == pytest.approx(0.008 / 6 * 3.5 * 25.4) and "behind its top edge" in move.text


def test_over_the_work() -> None:
    finding = run("fence-upright", WORKED.replace("@top=0.00", "@bottom=0.00"), tall="3")
    assert estimate(finding, "fence-upright").value == pytest.approx(-0.008 / 6)
    (move,) = finding.moves
    assert move.direction == "out" and "leans over the work" in move.text and "behind its bottom edge" in move.text


def test_one_reading_at_either_end() -> None:
    """+0.004 at the top and -0.004 at the bottom: it is all the block's."""
    finding = run(
        "fence-upright", WORKED.replace("first@top=0.006 turned@top=0.002", "first@top=0.004 turned@bottom=0.004")
    )
    assert estimate(finding, "fence-upright").value == pytest.approx(0.0, abs=1e-12)


def test_faces_that_run_together_are_taken_off() -> None:
    finding = run("fence-upright", WORKED.replace("block@top=2.000", "block@top=2.002"))
    assert estimate(finding, "fence-upright").value == pytest.approx((0.008 + 0.002) / 6)


def test_no_gap_may_hide_one() -> None:
    finding = run("fence-upright", WORKED.replace("=0.006", "=0").replace("=0.002", "=0"))
    labels = {c.label for c in estimate(finding, "fence-upright").components}
    assert "below the thinnest feeler" in labels and "caliper: limit of error" not in labels
    assert estimate(finding, "fence-upright").decision == "not-proven"


# --- blunders: each made, and one that comes close


def test_a_good_run_warns_of_nothing() -> None:
    assert not codes(run("fence-upright", WORKED))


def test_a_gap_at_both_ends() -> None:
    finding = run("fence-upright", f"{WORKED} turned@bottom=0.003")
    assert acts(finding)["both-ends"] == "refuse" and "turned about" in finding.refused[0].text
    assert "both-ends" not in codes(run("fence-upright", f"{WORKED} turned@bottom=0"))


def test_unit_slip() -> None:
    finding = run("fence-upright", WORKED.replace("block@top=2.000", "block@top=50.8"))
    assert "2.0000" in next(s.text for s in finding.refused if s.code == "unit-slip")
    assert "faces-not-parallel" not in codes(finding)


def test_faces_that_are_not_parallel() -> None:
    finding = run("fence-upright", WORKED.replace("block@top=2.000", "block@top=2.020"))
    assert acts(finding)["faces-not-parallel"] == "doubt" and "thicker at its top" in finding.seen[0].text
    thin = run("fence-upright", WORKED.replace("block@top=2.000", "block@top=1.980"))
    assert "thinner at its top" in thin.seen[0].text
    assert "faces-not-parallel" not in codes(run("fence-upright", WORKED.replace("block@top=2.000", "block@top=2.014")))


def test_a_block_that_cannot_be_so_far_out() -> None:
    finding = run("fence-upright", WORKED.replace("turned@top=0.002", "turned@bottom=0.056"))
    assert acts(finding)["block-out"] == "doubt" and not finding.moves
    assert "block-out" not in codes(run("fence-upright", WORKED.replace("turned@top=0.002", "turned@bottom=0.052")))


def test_a_low_block() -> None:
    assert acts(run("fence-upright", WORKED.replace("height=3", "height=1.9")))["low-block"] == "note"
    assert "low-block" not in codes(run("fence-upright", WORKED.replace("height=3", "height=2.1")))


def test_nothing_to_divide_by() -> None:
    finding = run("fence-upright", WORKED.replace("height=3", "height=0"))
    assert acts(finding)["no-size"] == "refuse" and not finding.estimates


# --- drawings


@pytest.mark.parametrize("fence", ["far", "operator"])
@pytest.mark.parametrize("end", ["top", "bottom"])
def test_drawings(fence: str, end: str) -> None:
    one = taken("fence-upright", WORKED.replace("@top=0.00", f"@{end}=0.00"), fence=fence)
    after = CHECK.draw(one, CHECK.evaluate(one))
    (shim,) = arrows(after)
    assert (shim.end[0] < shim.start[0]) == (fence == "far")  # into the work, which lies on the other side
    assert (shim.start[1] > 4) == (end == "top") and f"behind its {end} edge" in after.told
    assert "turn the block about" in CHECK.draw(RunInput(CHECK, ()), ()).told
    assert ("it stands on the far side" in CHECK.draw(one, ()).told) == (fence == "far")


# --- coverage


def test_coverage() -> None:
    assert 0.92 <= coverage(fence_upright, 500, seed=23)["fence-upright"] <= 0.98
