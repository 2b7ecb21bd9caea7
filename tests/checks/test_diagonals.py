"""Diagonals: hinged boxes closed as rings, the clamp on the longer diagonal; blunders made and nearly made."""

import math
import re

import pytest
from tests.checks.drawn import arrows
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_work import diagonals
from tests.worlds.box import Box

from trued.checks.diagonals import CHECK

GOOD = "diagonal_1=38 3/8|diagonal_2=38 5/16|width=23 7/8|height=30"


def typed(text: str) -> list[str]:
    return text.split("|")


def readings_of(box: Box, *, all_sides: bool = True) -> list[str]:
    one, two = box.diagonals()
    parts = {"diagonal_1": one, "diagonal_2": two, "width": box.ab, "height": box.bc}
    more = {"other_width": box.cd, "other_height": box.da} if all_sides else {}
    return [f"{name}={value:.7f}" for name, value in (parts | more).items()]


def test_worked_by_hand() -> None:
    """(1472.641 - 1467.848) / 2865 is 0.00167 rad, 0.096 degrees, 0.040 in across 23.875; squeeze 38 3/8 by 1/32."""
    finding = run("diagonals", typed(GOOD))
    angle = estimate(finding, "box-square").value
    assert angle == pytest.approx(0.00167, abs=5e-6) and math.degrees(angle) == pytest.approx(0.096, abs=5e-4)
    assert angle * 23.875 == pytest.approx(0.040, abs=5e-4)
    (move,) = CHECK.moves(taken("diagonals", typed(GOOD)), finding.founds)
    assert "A to C" in move.text and move.amount_mm == pytest.approx(25.4 / 32)
    assert not codes(finding)  # 2940.49 against 2940.03: the mean diagonal is 0.003 long, which is fine


def test_equal_diagonals_prove_nothing_when_opposite_sides_differ() -> None:
    """Worked by hand: both 38 11/32, top 24.000, bottom 23.750: not square, a trapezoid."""
    made = "diagonal_1=38 11/32|diagonal_2=38 11/32|width=24.000|other_width=23.750|height=30|other_height=30"
    finding = run("diagonals", typed(made))
    seen = next(s for s in finding.seen if s.code == "opposite-sides")
    assert seen.act == "doubt" and "differ by 0.2500 in" in seen.text and not finding.moves
    assert estimate(finding, "box-square").decision == "not-proven"
    trapezoid = Box(24.0, 30.0, 23.75, 30.0)
    trapezoid.angle = math.acos((0.25 / 2) / 30.0)
    one, two = trapezoid.diagonals()
    assert one == pytest.approx(two) and abs(trapezoid.tight()) > 0.004


@pytest.mark.parametrize("tight", [0.006, -0.004, 0.02])
@pytest.mark.parametrize(("width", "height"), [(24.0, 30.0), (30.0, 12.0)])
def test_signs(tight: float, width: float, height: float) -> None:
    box = Box(width, height, width, height, math.pi / 2 - tight)
    found = estimate(run("diagonals", readings_of(box)), "box-square")
    assert found.value == pytest.approx(box.tight(), rel=1e-3)


@pytest.mark.parametrize("tight", [0.007, -0.007])
@pytest.mark.parametrize("response", [0.7, 1.0, 1.3])
def test_squeezed_as_told_it_is_square(tight: float, response: float) -> None:
    box = Box(24.0, 30.0, 24.0, 30.0, math.pi / 2 - tight)
    for _ in range(2):
        finding = run("diagonals", readings_of(box))
        (move,) = CHECK.moves(taken("diagonals", readings_of(box)), finding.founds)
        ends = re.search(r"diagonal, ([AB]) to ([CD])", move.text)
        assert ends is not None and move.amount_mm is not None
        box.squeeze(0 if ends.groups() == ("A", "C") else 1, response * move.amount_mm / 25.4)
    assert abs(box.tight()) < 1.5e-3 / 2


def test_a_proven_fault_gives_the_move() -> None:
    many = [t for t in readings_of(Box(24.0, 30.0, 24.0, 30.0, math.pi / 2 - 0.007)) for _ in range(2)]
    assert run("diagonals", many).moves[0].where == "clamp"


# --- blunders


def test_unit_slip() -> None:
    finding = run("diagonals", typed(GOOD.replace("diagonal_2=38 5/16", "diagonal_2=974")))
    assert acts(finding)["unit-slip"] == "refuse" and "38.3465" in finding.refused[0].text
    assert "unit-slip" in codes(run("diagonals", typed(GOOD + "|other_width=606.4")))
    both = "diagonal_1=974.7|diagonal_2=973.1|width=23.875|height=30"
    assert "unit-slip" in codes(run("diagonals", typed(both)))
    metric = "diagonal_1=38.375|diagonal_2=38.3125|width=606.4|height=762"
    assert "unit-slip" in codes(run("diagonals", typed(metric), unit="mm"))
    assert "unit-slip" not in codes(run("diagonals", typed(GOOD.replace("38 5/16", "900"))))


def test_nothing_measured_is_refused() -> None:
    assert acts(run("diagonals", typed(GOOD.replace("height=30", "height=0"))))["no-size"] == "refuse"
    none = "diagonal_1=38|diagonal_2=38|width=0|height=0"
    assert "no-size" in codes(run("diagonals", typed(none)))


@pytest.mark.parametrize(
    ("made", "what"),
    [
        (GOOD.replace("38 3/8", "39 5/16"), "One diagonal against the rest"),
        (GOOD.replace("38 3/8", "39 3/8").replace("38 5/16", "39 5/16"), "Diagonals and sides"),
        (GOOD + "|other_height=31", "Height and other_height"),
    ],
)
def test_burned_inch(made: str, what: str) -> None:
    finding = run("diagonals", typed(made))
    seen = next(s for s in finding.seen if s.code == "burned-inch")
    assert seen.act == "doubt" and what in seen.text and not finding.moves
    near = made.replace("=39 5/16", "=38 7/16").replace("=39 3/8", "=38 1/2").replace("=31", "=30.2")
    assert "burned-inch" not in codes(run("diagonals", typed(near)))


def test_a_box_racked_by_an_inch_is_not_taken_for_a_burned_inch() -> None:
    box = Box(24.0, 30.0, 24.0, 30.0)
    box.squeeze(0, 0.5)
    one, two = box.diagonals()
    assert two - one == pytest.approx(1.0, abs=0.03)
    assert "burned-inch" not in codes(run("diagonals", readings_of(box)))


def test_opposite_sides_nearly_alike() -> None:
    near = GOOD + "|other_width=23 29/32|other_height=30"
    assert not codes(run("diagonals", typed(near)))


def test_sides_and_diagonals_that_are_not_of_one_box() -> None:
    longer = run("diagonals", typed(GOOD.replace("height=30", "height=29.85")))
    assert acts(longer)["does-not-close"] == "doubt"
    assert "longer than these sides" in next(s.text for s in longer.seen if s.code == "does-not-close")
    shorter = run("diagonals", typed(GOOD.replace("height=30", "height=30.15")))
    assert "shorter than these sides" in next(s.text for s in shorter.seen if s.code == "does-not-close")
    assert "does-not-close" not in codes(run("diagonals", typed(GOOD.replace("height=30", "height=30 1/32"))))


def test_one_end_outside_the_other_inside() -> None:
    """A box of 3/4 in sides: the inside corner lies 3/4 in and 3/4 in from the outside one."""
    outside = Box(24.0, 30.0, 24.0, 30.0).diagonals()
    inner = math.dist((0.0, 0.0), (24.0 - 0.75, 30.0 - 0.75))
    made = f"diagonal_1={inner:.4f}|diagonal_2={outside[1]:.4f}|width=24|height=30"
    finding = run("diagonals", typed(made), thickness="3/4")
    seen = next(s for s in finding.seen if s.code == "one-inside")
    assert seen.act == "doubt" and seen.text.startswith("diagonal_1")
    other = f"diagonal_1={outside[1]:.4f}|diagonal_2={inner:.4f}|width=24|height=30"
    assert "diagonal_2 is shorter" in " ".join(s.text for s in run("diagonals", typed(other), thickness="3/4").seen)
    assert "one-inside" not in codes(run("diagonals", typed(made), thickness="3/8"))
    assert "one-inside" not in codes(run("diagonals", typed(made)))
    assert "one-inside" not in codes(run("diagonals", typed(GOOD), thickness="3/4"))


@pytest.mark.parametrize(("one", "ends"), [("38 1/2", "A to C"), ("38 1/8", "B to D"), ("38 5/16", "B to D")])
def test_drawings(one: str, ends: str) -> None:
    run_taken = taken("diagonals", typed(GOOD.replace("38 3/8", one)))
    after = CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    assert f"from {ends} is the longer" in after.told
    assert len(arrows(after)) == (0 if one == "38 5/16" else 2)
    assert "outside to outside" in CHECK.draw(run_taken, ()).told


def test_coverage() -> None:
    assert 0.93 <= coverage(diagonals, 500, seed=46)["box-square"] <= 0.975
