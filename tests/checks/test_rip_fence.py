"""Rip fence: toe and pinch against a fence and a blade drawn as lines, the scale, blunders, drawings."""

import math
import re
from dataclasses import replace

import pytest
from tests.checks.drawn import arrows, paths
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_saw import rip_fence
from tests.worlds.fence import Fence

from trued.checks.rip_fence import CHECK
from trued.errors import InputRefused
from trued.measure.decision import ToleranceLimits
from trued.procedure import examine, take

SLOTS = {"beyond-blade": -5.0, "fence-side": 3.5}


def readings_of(fence: Fence, dial: str = "distance", *, blade: bool = True) -> list[str]:
    """Three locks that all come to lie alike, read without error."""
    slot = "fence-side" if fence.slot_x > 0 else "beyond-blade"
    typed = [f"slot={slot}", f"dial={dial}", f"length={fence.long}"]

    def shown(inches: float) -> str:
        return f"{ {'distance': inches, 'shrinks': inches - 5.0, 'grows': 5.0 - inches}[dial]:.7f}"

    places = (("operator_end", 0.0), ("middle", 0.5), ("far_end", 1.0))
    for _ in range(3):
        typed += [f"{name}={shown(fence.from_slot(fence.face(share)))}" for name, share in places]
    if blade:
        typed += [f"blade_{name}={shown(fence.from_slot(fence.plate(x)))}" for name, x in (("operator", 0), ("far", 1))]
        typed.append(f"blade_span={fence.blade}")
    return typed


# --- what can hurt someone


def test_toe_in_is_said_first_though_readings_are_missing() -> None:
    """The ends of two locks tell it; what else is missing is said after."""
    ends = ["operator_end=5.000", "far_end=4.980", "operator_end=5.001", "far_end=4.981"]
    with pytest.raises(InputRefused) as refused:
        take(CHECK, ["dial=distance", *ends])
    first, *rest = refused.value.faults
    assert first.where == "danger" and "closes toward the far end by 0.0200 in" in first.text and rest
    with pytest.raises(InputRefused) as open_enough:
        take(CHECK, ["dial=distance", *(text.replace("4.98", "5.00") for text in ends)])
    assert all(fault.where != "danger" for fault in open_enough.value.faults)


# --- signs


@pytest.mark.parametrize("slot_x", SLOTS.values())
@pytest.mark.parametrize("dial", ["distance", "shrinks", "grows"])
@pytest.mark.parametrize(("toe", "lean"), [(0.003, 0.004), (-0.008, -0.002), (0.002, -0.003), (0.010, 0.006)])
def test_toe_and_pinch_are_those_of_the_lines(slot_x: float, dial: str, toe: float, lean: float) -> None:
    """The work has more room at the far end of the blade by toe x 7/20 less the blade's lean."""
    fence = Fence(toe / 20, lean / 7, slot_x=slot_x)
    finding = run("rip-fence", readings_of(fence, dial))
    assert estimate(finding, "rip-toe").value == pytest.approx(toe * 25.4, rel=1e-3)
    assert estimate(finding, "rip-fence-angle").value == pytest.approx(-fence.closes() / 7, rel=1e-3, abs=1e-9)
    assert -fence.closes() == pytest.approx(toe * 7 / 20 - lean, rel=1e-3)


@pytest.mark.parametrize("slot_x", SLOTS.values())
@pytest.mark.parametrize("toe", [0.015, -0.015, 0.007, -0.004])
@pytest.mark.parametrize("response", [0.7, 1.0, 1.3])
def test_at_most_two_moves_open_the_fence_as_it_should(slot_x: float, toe: float, response: float) -> None:
    fence = Fence(toe / 20, -0.002 / 7, slot_x=slot_x)
    for _ in range(2):
        read = take(CHECK, readings_of(fence))
        if examine(read).estimates[0].decision == "proven-in":
            break
        move = CHECK.moves(read, CHECK.evaluate(read))[0]
        way = re.search(r"back of the rip fence (toward|away from) the blade", move.text)
        assert way is not None and move.amount_mm is not None
        fence.move_far_end(response * move.amount_mm / 25.4 * (1.0 if way[1] == "away from" else -1.0))
    assert 0.0 <= fence.open_rad * 20 + 1e-6 <= 0.003 + 2e-6
    assert fence.closes() < 0.0


# --- the verdict


def test_both_within_tolerance_and_yet_pinched() -> None:
    """Toe 0.003 in over 20 in, heel 0.004 in over 7 in toward the fence: closes by 0.003 in over the blade."""
    finding = run("rip-fence", CHECK.example.given)
    opening = estimate(finding, "rip-fence-angle")
    assert 7 * opening.value == pytest.approx(-0.00295, abs=1e-5)
    assert opening.safety and opening.decision == "proven-out" and opening.limits == ToleranceLimits(0.0, None)
    (move,) = [m for m in finding.moves if m.feature == "rip-fence-angle"]
    assert move.text.startswith("No rip") and "check blade-parallel" in move.text and move.amount_mm is None


def test_a_fence_that_closes_is_named_and_opened() -> None:
    fence = Fence(-0.012 / 20, -0.0005 / 7)
    finding = run("rip-fence", readings_of(fence))
    (move,) = finding.moves  # toe and angle are out, and one fence gets one order
    assert move.feature == "rip-fence-angle" and move.direction == "out"
    assert move.text.startswith("No rip: fence and blade pinch at the back")
    assert move.amount_mm == pytest.approx(0.0135 * 25.4, rel=1e-3)
    assert "between them. Pull the feelers. Loosen the fence" in move.text
    read = taken("rip-fence", readings_of(Fence(0.001499 / 20)))
    assert "Less cannot be set by hand" in CHECK.moves(read, CHECK.evaluate(read))[0].text
    assert "away from the blade by 0.0135 in" in move.text


def test_a_fence_too_far_open_is_ordered_once_by_its_angle() -> None:
    (move,) = run("rip-fence", readings_of(Fence(0.015 / 20, -0.002 / 7))).moves
    assert move.feature == "rip-fence-angle" and move.direction == "in"
    assert "toward the blade by 0.0135 in" in move.text


def test_without_the_blade_the_fence_is_opened_but_not_brought_in() -> None:
    (move,) = run("rip-fence", readings_of(Fence(0.015 / 20), blade=False)).moves
    assert move.amount_mm is None and "Read the blade from the same slot first" in move.text
    (opened,) = run("rip-fence", readings_of(Fence(-0.015 / 20), blade=False)).moves
    assert opened.direction == "out" and opened.amount_mm == pytest.approx(0.0165 * 25.4, rel=1e-3)


def test_open_enough_is_proven_and_just_parallel_is_not() -> None:
    wide = run("rip-fence", readings_of(Fence(0.0015 / 20, -0.002 / 7)))
    assert (
        estimate(wide, "rip-fence-angle").decision == "proven-in" and estimate(wide, "rip-toe").decision == "proven-in"
    )
    even = run("rip-fence", readings_of(Fence(0.0, 0.0)))
    assert (
        estimate(even, "rip-fence-angle").decision == "not-proven"
        and estimate(even, "rip-toe").decision == "not-proven"
    )


def test_without_the_blade_the_pinch_is_not_judged() -> None:
    finding = run("rip-fence", readings_of(Fence(0.0015 / 20), blade=False))
    assert {e.feature for e in finding.estimates} == {"rip-toe", "rip-relock", "rip-straight"}
    assert acts(finding)["blade-not-read"] == "note"
    assert "not ready to rip" in next(s.text for s in finding.seen)
    assert "not judged" in CHECK.draw(taken("rip-fence", readings_of(Fence(), blade=False)), finding.founds).told


def test_no_tolerance_buys_toe_in() -> None:
    read = take(
        CHECK,
        CHECK.example.given,
        limits={"rip-toe": ToleranceLimits.within(2.0), "rip-fence-angle": ToleranceLimits.within(0.1)},
    )
    founds = {f.feature: f.limits for f in CHECK.evaluate(read)}
    assert founds["rip-toe"] == ToleranceLimits(0.0, 0.003 * 25.4) and founds["rip-fence-angle"] == ToleranceLimits(
        0.0, 0.1
    )


def test_the_next_lock_is_in_the_pinch_and_not_in_the_toe() -> None:
    finding = run("rip-fence", CHECK.example.given)
    labels = {f: {c.label for c in estimate(finding, f).components} for f in ("rip-toe", "rip-fence-angle")}
    assert "locking the fence the next time" in labels["rip-fence-angle"] - labels["rip-toe"]


def locks(*toes: float, shift: tuple[float, ...] = (0.0, 0.0, 0.0), bow: float = 0.0) -> list[str]:
    typed = ["slot=beyond-blade", "dial=shrinks", "length=20"]
    for toe, off in zip(toes, shift, strict=True):
        values = {"operator_end": off, "middle": off + toe / 2 + bow, "far_end": off + toe}
        typed += [f"{name}={value:.5f}" for name, value in values.items()]
    return [*typed, "blade_operator=0.010", "blade_far=0.008", "blade_span=7"]


def test_a_lock_that_does_not_repeat_is_mended_first() -> None:
    finding = run("rip-fence", locks(0.001, 0.002, 0.001, shift=(0.0, 0.060, -0.070)))
    again = estimate(finding, "rip-relock")
    assert again.decision == "proven-out"
    assert again.value == pytest.approx(0.0653 * 25.4, rel=0.02)
    assert "Clean the rail" in next(m.text for m in finding.moves if m.feature == "rip-relock")
    assert estimate(run("rip-fence", locks(0.001, 0.0015, 0.001)), "rip-relock").decision == "proven-in"


# --- scale


def test_scale_worked_by_hand() -> None:
    """Strips at 2, 4 and 6 in come out 0.040 wide each, and 0.002 more an inch: 2.044, 4.048, 6.052."""
    typed = [*locks(0.0015, 0.0015, 0.0015), "width@2=2.044", "width@4=4.048", "width@6=6.052"]
    finding = run("rip-fence", typed)
    assert estimate(finding, "rip-offset").value == pytest.approx(0.040 * 25.4, rel=1e-6)
    assert estimate(finding, "rip-slope").value == pytest.approx(0.002, rel=1e-6)
    offset, slope = CHECK.moves(taken("rip-fence", typed), finding.founds)[-2:]
    assert offset.direction == "narrower" and "until it reads 6.0400" in offset.text and "0.0400 in less" in offset.text
    assert "2.0000: set 1.9561" in slope.text and slope.amount_mm is None
    narrow = [*locks(0.0015, 0.0015, 0.0015), "width@2=1.956", "width@4=3.952", "width@6=5.948"]
    less = CHECK.moves(taken("rip-fence", narrow), run("rip-fence", narrow).founds)[-2]
    assert less.direction == "wider" and "0.0400 in more" in less.text


def test_the_cursor_as_told_takes_the_offset_away_and_the_other_way_doubles_it() -> None:
    fence = Fence(scale_origin=0.040)
    typed = locks(0.0015, 0.0015, 0.0015) + [f"width@{s}={fence.ripped(s):.5f}" for s in (2, 4, 6)]
    move = next(
        m for m in CHECK.moves(taken("rip-fence", typed), run("rip-fence", typed).founds) if m.where == "cursor"
    )
    reads = float(re.search(r"until it reads ([\d.]+)\.", move.text)[1])  # type: ignore[index]
    shifted = replace(fence, scale_origin=fence.scale_origin - (reads - 6.0))
    wrong = replace(fence, scale_origin=fence.scale_origin + (reads - 6.0))
    assert shifted.ripped(6.0) == pytest.approx(6.0, abs=1e-4) and wrong.ripped(6.0) == pytest.approx(6.08, abs=1e-4)


# --- blunders

GOOD = locks(0.0015, 0.0016, 0.0014)


def changed(**new: str) -> list[str]:
    kept = [text for text in GOOD if text.partition("=")[0] not in new]
    return kept + [f"{name}={value}" for name, value in new.items() if value]


def test_a_good_run_warns_of_nothing() -> None:
    assert codes(run("rip-fence", GOOD)) == set()


def test_nothing_to_divide_by() -> None:
    assert acts(run("rip-fence", changed(length="0")))["no-size"] == "refuse"
    assert acts(run("rip-fence", changed(blade_span="0")))["no-size"] == "refuse"


def test_negative_distance() -> None:
    made = run("rip-fence", changed(dial="distance", blade_operator="-0.01"))
    assert acts(made)["negative-distance"] == "refuse"
    assert "negative-distance" not in codes(run("rip-fence", changed(blade_operator="-0.0001", blade_far="-0.002")))


def test_unit_slip_between_the_ends() -> None:
    fence = readings_of(Fence(0.0015 / 20))
    made = [text.replace("far_end=13.0", "far_end=330.") if text.startswith("far_end") else text for text in fence]
    assert acts(run("rip-fence", made))["unit-slip"] == "refuse"
    dial = locks(0.0508, 0.0508, 0.0508, shift=(0.002, 0.002, 0.002))
    assert "unit-slip" not in codes(run("rip-fence", dial))  # a dial near nought shows any ratio


def test_unit_slip_of_a_width() -> None:
    made = [*GOOD, "width@2=50.9", "width@4=4.004", "width@6=6.006"]
    assert "2.0039" in run("rip-fence", made).refused[0].text
    assert "unit-slip" in codes(run("rip-fence", [*GOOD, "width@50.8=2.0", "width@4=4.004", "width@6=6.006"]))
    close = run("rip-fence", [*GOOD, "width@2=2.060", "width@4=4.004", "width@6=6.006"])
    assert "unit-slip" not in codes(close)


def test_half_a_blade() -> None:
    made = run("rip-fence", changed(blade_far=""))
    assert acts(made)["half-a-blade"] == "refuse" and "blade_operator, blade_span alone" in made.refused[0].text


def test_toe_implausible() -> None:
    assert acts(run("rip-fence", locks(0.130, 0.001, 0.001)))["toe-implausible"] == "doubt"
    assert "toe-implausible" not in codes(run("rip-fence", locks(0.120, 0.120, 0.120)))


@pytest.mark.parametrize(("bow", "word"), [(0.005, "hollow"), (-0.005, "bulged")])
def test_bent_face(bow: float, word: str) -> None:
    finding = run("rip-fence", locks(0.0015, 0.0015, 0.0015, bow=bow))
    assert acts(finding)["bent-face"] == "note" and word in next(s.text for s in finding.seen)
    assert estimate(finding, "rip-straight").value == pytest.approx(bow * 25.4, rel=1e-6)
    assert word in next(m.text for m in finding.moves if m.feature == "rip-straight")
    assert "bent-face" not in codes(run("rip-fence", locks(0.0015, 0.0015, 0.0015, bow=0.55 * bow)))


def test_the_middle_of_a_hollow_face_stands_farther_from_the_slot() -> None:
    found = estimate(run("rip-fence", readings_of(Fence(hollow=0.004))), "rip-straight")
    assert found.value == pytest.approx(0.004 * 25.4, rel=1e-3)


def test_deflects() -> None:
    assert acts(run("rip-fence", [*GOOD, "far_pushed=0.0080"]))["fence-deflects"] == "note"
    assert "fence-deflects" not in codes(run("rip-fence", [*GOOD, "far_pushed=0.0060"]))


# --- drawings


@pytest.mark.parametrize("toe", [0.008, -0.008])
@pytest.mark.parametrize("slot", SLOTS)
def test_the_drawn_fence_leans_as_found_and_the_arrow_mends_it(toe: float, slot: str) -> None:
    read = taken("rip-fence", [f"slot={slot}", *locks(toe, toe, toe)[1:-3], *PARALLEL])
    after = CHECK.draw(read, CHECK.evaluate(read))
    (face,), (arrow,) = paths(after, "fence"), arrows(after)
    assert (face.points[1][0] > face.points[0][0]) == (toe > 0)
    assert (arrow.end[0] < arrow.start[0]) == (toe > 0)
    assert f"{'away from' if toe > 0 else 'toward'} the blade by 0.0080 in" in after.told
    assert "Fence and blade" in after.told and math.isfinite(arrow.end[0])
    assert ("between blade and fence" in CHECK.draw(read, ()).told) == (slot == "fence-side")


PARALLEL = ("blade_operator=0.050", "blade_far=0.050", "blade_span=7")


@pytest.mark.parametrize("slot", SLOTS)
@pytest.mark.parametrize("toe", [0.003, 0.008])
def test_a_fence_never_comes_in_against_a_blade_that_leans_toward_it(toe: float, slot: str) -> None:
    """The blade leans toward the fence by 0.004 in over 7 in: 0.0114 in over the fence's 20 in, more than any toe that
    is allowed. Brought in to the middle of it, fence and blade would close toward the far end: pinched and thrown.
    """
    far = "blade_far=0.054" if slot == "beyond-blade" else "blade_far=0.046"
    typed = [f"slot={slot}", *locks(toe, toe, toe)[1:-3], "blade_operator=0.050", far, "blade_span=7"]
    read = taken("rip-fence", typed)
    founds = CHECK.evaluate(read)
    after, told = CHECK.draw(read, founds), {move.feature: move for move in CHECK.moves(read, founds)}
    assert arrows(after) == [] and "Not toward the blade: set the blade to the slot first" in after.told
    assert "goes toward" not in after.told and "Fence and blade close toward the far end" in after.told
    move = told["rip-fence-angle"]
    assert "rip-toe" not in told and move.text.startswith("No rip") and "Set the blade to the slot first" in move.text
    assert move.direction == "out" and move.amount_mm is None


# --- coverage


def test_coverage() -> None:
    """95 % intervals; the sampling error of 200 runs is 1.5 points (4,000 runs are made by the benchmark)."""
    for feature, held in coverage(rip_fence, 200, seed=22).items():
        assert 0.91 <= held <= 0.99, feature
