"""Detent angle: signs proved on rings that are really cut and laid together, the worked gap, blunders."""

import math
from itertools import pairwise

import pytest
from tests.checks.drawn import arrows, labels, paths
from tests.checks.ran import acts, codes, coverage, estimate, run, sense_of, taken
from tests.checks.simulated_fence import detent_angle
from tests.worlds.ring import last_joint, mitred
from tests.worlds.sled import LAYOUTS, Sled

from trued.checks.detent_angle import CHECK, gap_of, joint_length, mates, opens_all, over_nominal
from trued.measure.estimate import covariance
from trued.procedure import RunInput

DEG = math.radians(1.0)
FOUR = "piece=7.5 piece=7.5 piece=7.5 piece=7.5 width=2"
OVER = f"swung=closed {FOUR} where=inside gap=0.0197"


def detent(fence: str, keeper: str, n: int, swung: str, error: float) -> Sled:
    """The sled at the detent for n pieces, its corner too tight by `error`."""
    sled = Sled(fence, keeper)
    sled.make_tight((1 if swung == "closed" else -1) * math.pi / n + error)
    return sled


def readings_of(sled: Sled, n: int, swung: str) -> list[str]:
    ring = [mitred(sled, 2.0)] * n
    joint = last_joint(ring)
    typed = [
        f"swung={swung}",
        "width=2",
        f"gap={joint.gap:.7f}",
        f"where={joint.where if joint.gap > 1e-9 else 'none'}",
    ]
    return typed + [f"piece={piece.length:.7f}" for piece in ring]


# --- signs, on rings that are really cut


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("swung", ["closed", "open"])
@pytest.mark.parametrize("n", [4, 6, 8])
@pytest.mark.parametrize("error", [0.0016, -0.0011])
def test_the_estimate_is_how_tight_the_corner_is(fence: str, keeper: str, swung: str, n: int, error: float) -> None:
    typed = readings_of(detent(fence, keeper, n, swung, error), n, swung)
    assert estimate(run("detent-angle", typed), "detent-angle").value == pytest.approx(error, rel=5e-3)


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("swung", ["closed", "open"])
@pytest.mark.parametrize("error", [0.0017, -0.0017])
@pytest.mark.parametrize("response", [0.7, 1.3])
def test_two_moves_bring_it_in(fence: str, keeper: str, swung: str, error: float, response: float) -> None:
    sled = detent(fence, keeper, 4, swung, error)
    for _ in range(2):
        one = taken("detent-angle", readings_of(sled, 4, swung), fence=fence, keeper=keeper)
        founds = CHECK.evaluate(one)
        (move,) = CHECK.moves(one, founds)
        sense = sense_of(move.text)
        sled.turn_fence(response * abs(founds[0].value.value), sense)
    assert abs(sled.tight - (1 if swung == "closed" else -1) * math.pi / 4) < 0.02 * DEG


def test_a_detent_that_is_right_closes_the_ring() -> None:
    joint = last_joint([mitred(detent("far", "left", 6, "closed", 0.0), 2.0)] * 6)
    assert joint.gap == pytest.approx(0.0, abs=1e-9)


# --- worked by hand


def test_worked_by_hand() -> None:
    """n = 4, w = 2: the joint is 2.828 long, 0.05° a cut leaves 0.0197 in; 0.005 in is 0.0127°, 0.0027 in per foot."""
    assert joint_length(taken("detent-angle", OVER)).value / 25.4 == pytest.approx(2.828, abs=5e-4)
    assert gap_of(0.05 * DEG, 4, 2.8284) == pytest.approx(0.0197, abs=5e-5)
    assert gap_of(0.0127 * DEG, 4, 2.8284) == pytest.approx(0.005, abs=2e-5)
    assert 12 * math.tan(0.0127 * DEG) == pytest.approx(0.0027, abs=5e-5)
    finding = run("detent-angle", OVER, radius="18")
    found = estimate(finding, "detent-angle")
    assert found.value / DEG == pytest.approx(0.05, abs=2e-4) and found.decision == "proven-out"
    (move,) = finding.moves
    assert move.direction == "open" and move.text.startswith("Open the corner at the keeper, 0.0155 in at the screw.")
    assert "Each cut is over its angle." in move.text
    assert move.amount_mm == pytest.approx(0.05 * DEG * 18 * 25.4, rel=3e-3)  # 0.0157 in; by feelers 0.0155


def test_with_the_width_for_the_joint_it_would_be_too_much() -> None:
    """Taking 2 in for the length of the joint would make 0.05° into 0.07°."""
    wrong = math.degrees(math.atan(0.0197 / 2.0)) / 8
    assert wrong == pytest.approx(0.07, abs=1e-3)


@pytest.mark.parametrize(
    ("swung", "where", "direction", "words"),
    [
        ("closed", "inside", "open", "over"),
        ("closed", "outside", "close", "short of"),
        ("open", "inside", "close", "over"),
        ("open", "outside", "open", "short of"),
    ],
)
def test_gap_outside_turns_it_farther_gap_inside_less(swung: str, where: str, direction: str, words: str) -> None:
    typed = OVER.replace("swung=closed", f"swung={swung}").replace("where=inside", f"where={where}")
    (move,) = run("detent-angle", typed).moves
    assert move.direction == direction and f"Each cut is {words} its angle." in move.text
    assert move.text.startswith(f"{direction.capitalize()} the corner at the keeper, ")
    assert move.amount_mm is None and "--radius" in move.text
    (move,) = run("detent-angle", typed, radius="18").moves
    assert "clamp a block on the side the fence moves to." in move.text
    for pivot, screw, goes_back in (("near-blade", "keeper", "open"), ("near-blade", "offcut", "close")):
        (move,) = run("detent-angle", typed, radius="18", pivot=pivot, screw=screw).moves
        side = "behind the fence" if direction == goes_back else "on the work side"
        assert f"At the screw, clamp a block {side}. Put" in move.text


def test_what_moves_every_run_moves_the_angle_as_much_and_the_same_way() -> None:
    one = taken("detent-angle", OVER)
    seating = one.between_runs()
    assert covariance(CHECK.evaluate(one)[0].value, seating) == pytest.approx(seating.u**2) and seating.u > 0.0


def test_a_wide_gap_moves_the_angle_by_the_slope_of_its_arc() -> None:
    """The arc tangent rises by 1 / (1 + 0.25) at a gap of half the joint; an eighth of that a cut."""
    one = taken("detent-angle", OVER.replace("0.0197", f"{0.5 * 2 * math.sqrt(2):.6f}"))
    (c,) = [c for source, c in over_nominal(one).parts.items() if source.key.startswith("reading:gap")]
    assert c == pytest.approx(1.0 / (8.0 * 1.25 * 2.0 * math.sqrt(2) * 25.4), rel=1e-4)


def test_nothing_to_see() -> None:
    finding = run("detent-angle", f"swung=open {FOUR} where=none gap=0")
    found = estimate(finding, "detent-angle")
    assert found.value == pytest.approx(0.0) and {c.label for c in found.components} >= {"below the thinnest feeler"}


# --- blunders: each made, and one that comes close


def test_a_good_run_warns_of_nothing() -> None:
    assert not codes(run("detent-angle", f"{OVER} ends=one gap=0.021"))


def test_a_gap_without_its_place() -> None:
    assert acts(run("detent-angle", OVER.replace("inside", "none")))["gap-without-place"] == "refuse"
    other = run("detent-angle", OVER.replace("gap=0.0197", "gap=0"))
    assert "where=none" in other.refused[0].text


def test_left_detent_for_one_end_and_right_for_the_other() -> None:
    finding = run("detent-angle", f"{OVER} ends=two")
    assert acts(finding)["two-detents"] == "doubt" and not finding.moves


def test_unequal_opposite_pieces_open_every_corner() -> None:
    """1/32 on a frame of 15.6 in opens about 0.003 at each corner; as much as the error that is looked for."""
    frame = "piece=15.6 piece=15.6 piece=15.63125 piece=15.6 width=2"
    one = taken("detent-angle", f"swung=closed {frame} where=inside gap=0.0197")
    assert opens_all(one) / 25.4 == pytest.approx(0.0028, abs=1e-4)
    finding = run("detent-angle", f"swung=closed {frame} where=inside gap=0.0197")
    assert acts(finding)["unequal-pieces"] == "doubt" and "opposite pieces differ by 0.0312 in" in finding.seen[0].text
    near = frame.replace("15.63125", "15.612")
    assert acts(run("detent-angle", f"swung=closed {near} where=inside gap=0.0197"))["unequal-pieces"] == "note"
    alike = frame.replace("15.63125", "15.605")
    assert "unequal-pieces" not in codes(run("detent-angle", f"swung=closed {alike} where=inside gap=0.0197"))


def test_a_rectangle_is_as_good_as_a_square() -> None:
    rectangle = "piece=9 piece=6 piece=9 piece=6 width=2"
    assert not codes(run("detent-angle", f"swung=closed {rectangle} where=inside gap=0.0197"))
    assert mates([9.0, 6.0, 9.1, 6.0]) == [(9.0, 9.1), (6.0, 6.0)] and mates([3.0, 1.0, 2.0]) == [(1.0, 3.0)]


def test_three_pieces_must_all_be_alike() -> None:
    three = "swung=closed piece=7 piece=7 piece=7.06 width=2 where=inside gap=0.01"
    finding = run("detent-angle", three)
    assert next(s.text for s in finding.seen if s.code == "unequal-pieces").startswith("The pieces differ")


def test_unit_slip() -> None:
    finding = run("detent-angle", OVER.replace("piece=7.5 width", "piece=190.5 width"))
    assert any("7.5000" in seen.text for seen in finding.refused) and "unequal-pieces" not in codes(finding)


def test_another_notch() -> None:
    finding = run("detent-angle", OVER.replace("0.0197", "0.2000"))
    assert acts(finding)["another-notch"] == "doubt" and "4 pieces (45°)" in finding.seen[0].text
    assert "another-notch" not in codes(run("detent-angle", OVER.replace("0.0197", "0.1900")))


def test_gaps_that_disagree() -> None:
    assert acts(run("detent-angle", f"{OVER} gap=0.0240"))["gaps-disagree"] == "doubt"
    assert "gaps-disagree" not in codes(run("detent-angle", f"{OVER} gap=0.0235"))


def test_nothing_to_divide_by() -> None:
    assert "no-size" in codes(run("detent-angle", OVER.replace("width=2", "width=0")))


# --- drawings


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("where", ["inside", "outside"])
def test_drawings(fence: str, keeper: str, where: str) -> None:
    one = taken("detent-angle", OVER.replace("inside", where), fence=fence, keeper=keeper)
    before, after = CHECK.draw(one, ()), CHECK.draw(one, CHECK.evaluate(one))
    assert "all joints but the last" in before.told and f"open at the {where}" in after.told
    (arrow,) = arrows(after)
    opening = where == "inside"  # the fence stands closed
    assert (arrow.end[1] > arrow.start[1]) == ((fence == "far") == opening)
    assert (arrow.start[0] < 0) == (keeper == "left")
    assert "ring of 4 pieces" in CHECK.draw(RunInput(CHECK, ()), ()).told
    eight = taken("detent-angle", f"swung=open {' piece=4' * 8} width=2 where={where} gap=0.02")
    assert CHECK.draw(eight, CHECK.evaluate(eight)).shapes


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("where", ["inside", "outside"])
@pytest.mark.parametrize("swung", ["closed", "open"])
def test_ring_and_fence_are_drawn_as_they_stand(fence: str, keeper: str, where: str, swung: str) -> None:
    """The last joint is at the bottom and gapes where the feeler went in; a closed fence leans into the work."""
    typed = OVER.replace("inside", where).replace("swung=closed", f"swung={swung}")
    one = taken("detent-angle", typed, fence=fence, keeper=keeper)
    after, kx, fy = CHECK.draw(one, CHECK.evaluate(one)), 1 if keeper == "right" else -1, 1 if fence == "far" else -1
    first, *_, last = paths(after, "board")
    outer, inner = math.dist(first.points[0], last.points[1]), math.dist(first.points[3], last.points[2])
    gape = pytest.approx(2 * 0.06 * (0.05 / 0.02) * 4.0, rel=5e-3)  # 2.5 tolerances, half of it at either piece
    assert (inner == gape and outer < 1e-9) if where == "inside" else (outer == gape and inner < 1e-9)
    right, left = (first.points[3], last.points[2]) if where == "inside" else (first.points[0], last.points[1])
    assert right[0] > 0.5 and left[0] < -0.5
    ring = paths(after, "board")
    for one_piece, other in pairwise(ring):
        assert math.dist(one_piece.points[1], other.points[0]) + math.dist(one_piece.points[2], other.points[3]) < 1e-9
    assert all(p[1] < 0.0 for p in (first.points[0], first.points[3], last.points[1], last.points[2]))
    assert f"gap {where}" in {label.text for label in labels(after)}
    (bar,) = paths(after, "fence")
    by_x = sorted(bar.points, key=lambda p: kx * p[0])
    near, far = (sum(p[1] for p in pair) / 2 for pair in (by_x[:2], by_x[2:]))
    assert (fy * (far - near) < -2.0) if swung == "closed" else (fy * (far - near) > 2.0)
    assert kx * by_x[2][0] > 6.0 and near == pytest.approx(-17.0, abs=1.0)
    (arrow,) = arrows(after)
    assert math.dist(arrow.start, by_x[2]) < 2.0 and abs(arrow.end[1] - arrow.start[1]) == pytest.approx(3.4)
    word = {label.text: label.at for label in labels(after)}
    opening = (where == "inside") == (swung == "closed")
    said = "open the fence" if opening else "close the fence"
    assert kx * word[said][0] < 0.0 and word[said][1] == -17.0
    over = ("over", "back toward") if where == "inside" else ("short of", "farther from")
    assert f"each cut is {over[0]} its angle" in after.told and f"{over[1]} its zero" in after.told


# --- coverage


def test_coverage() -> None:
    assert 0.92 <= coverage(detent_angle, 400, seed=28)["detent-angle"] <= 0.98


def test_metal_in_the_blades_way_by_the_side_to_which_the_fence_swings() -> None:
    """By hand: at 45 degrees metal 1.5 in along and 1.5 in deep is 0.12 in past a blade 2 in from the pivot. Before the
    fence it comes there as the fence closes from its zero, and its end at the blade goes away from the work."""
    front = {"pivot_beside": "2", "metal_end": "1.5", "metal_front": "1.5", "metal_back": "0.1"}
    back = front | {"metal_front": "0.1", "metal_back": "1.5"}
    for swung, metal in (("closed", front), ("open", back)):
        typed = [f"swung={swung}", *OVER.split()[1:]]
        assert "metal-in-path" in codes(run("detent-angle", typed, **metal))
        other = back if metal is front else front
        assert "metal-in-path" not in codes(run("detent-angle", typed, **other))
