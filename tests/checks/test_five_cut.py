"""Five cuts: signs proved on boards that are really cut, worked examples, blunders made and nearly made."""

import pytest
from tests.checks.drawn import Normal, box, normal, side
from tests.checks.ran import acts, codes, coverage, estimate, run, sense_of, taken
from tests.checks.simulated import five_cut
from tests.worlds.sled import LAYOUTS, Sled

from trued.checks.five_cut import CHECK, TOLERANCE, ends_disagree
from trued.equipment.sides import SledLayout
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import covariance
from trued.procedure import examine, take

CONTRACT = "fence_end=0.500 free_end=0.538 length=9.5"
COMPASS = {  # worked out by hand: which way the far end of the fence goes to open the corner
    ("far", "left"): "the left end of the fence away from you",
    ("operator", "left"): "the left end of the fence toward you",
    ("far", "right"): "the right end of the fence away from you",
    ("operator", "right"): "the right end of the fence toward you",
}


def readings_of(sled: Sled) -> list[str]:
    strip = sled.five_cuts()
    ends = f"fence_end={strip.fence_end:.7f} free_end={strip.free_end:.7f} middle={strip.middle:.7f}"
    return [*ends.split(), f"length={strip.length:.6f}"]


# --- signs and words, on boards that are really cut


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("tight", [0.0013, -0.0009])
def test_the_estimate_is_how_tight_the_corner_is(fence: str, keeper: str, tight: float) -> None:
    sled = Sled(fence, keeper)
    sled.make_tight(tight)
    found = estimate(run("five-cut", readings_of(sled), fence=fence, keeper=keeper), "fence-angle")
    assert found.value == pytest.approx(sled.tight, rel=0.01)
    assert sled.tight == pytest.approx(tight, rel=1e-9)


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("tight", [0.0013, -0.0009])
def test_turning_the_fence_as_told_squares_it(fence: str, keeper: str, tight: float) -> None:
    sled = Sled(fence, keeper)
    sled.make_tight(tight)
    finding = run("five-cut", readings_of(sled), fence=fence, keeper=keeper)
    (move,) = finding.moves
    sense = sense_of(move.text)
    sled.turn_fence(abs(finding.estimates[0].value), sense)
    assert abs(sled.tight) < 0.01 * abs(tight)


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize(
    ("pivot", "screw"), [("near-blade", "keeper"), ("near-blade", "offcut"), ("far-from-blade", "keeper")]
)
@pytest.mark.parametrize("tight", [0.0013, -0.0009])
def test_the_feeler_at_the_screw_squares_it(fence: str, keeper: str, pivot: str, screw: str, tight: float) -> None:
    sled = Sled(fence, keeper, pivot=pivot, screw=screw)
    sled.make_tight(tight)
    facts = {"fence": fence, "keeper": keeper, "pivot": pivot, "screw": screw, "radius": "18"}
    (move,) = run("five-cut", readings_of(sled), **facts).moves
    assert move.where == "screw" and move.amount_mm is not None
    from_work = "clamp a block behind the fence" in move.text
    assert from_work != ("clamp a block on the work side" in move.text)
    away = from_work == (fence == "far")
    sled.push_screw(move.amount_mm / 25.4, f"{'away from' if away else 'toward'} the operator")
    assert abs(sled.tight) < 0.01 * abs(tight)


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_the_drawing_says_the_turn_that_the_boards_really_took(fence: str, keeper: str) -> None:
    told = CHECK.draw(take(CHECK, CONTRACT.split(), {"fence": fence, "keeper": keeper}), ()).told
    took = Sled(fence, keeper).five_cuts().turns[1:]
    assert ("counterclockwise between" in told) == all(t > 0 for t in took)
    assert ("panel clockwise between" in told) == all(t < 0 for t in took)


# --- worked examples


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_contract_in_every_layout(fence: str, keeper: str) -> None:
    finding = run("five-cut", CONTRACT, fence=fence, keeper=keeper)
    found = estimate(finding, "fence-angle")
    assert found.value == pytest.approx(0.001, rel=0.01)
    assert found.decision == "proven-out" and found.unit == "rad"
    (move,) = finding.moves
    assert move.direction == "open" and move.text.startswith("Move the ") and move.where == "fence"
    assert move.amount_mm is None and "0.0120 in/ft" in move.text and "--radius" in move.text
    assert COMPASS[fence, keeper] in move.text


def test_without_the_layout_the_words_are_still_right() -> None:
    (move,) = run("five-cut", CONTRACT).moves
    assert move.text.startswith("Open the corner at the keeper") and "end of the fence" not in move.text


def test_far_fence_keeper_left_worked_by_hand() -> None:
    """0.018 over 4 x 15 is 0.0003; at 18 in it is 0.0054 in, 0.108 turn of 20 to the inch, 39 degrees."""
    facts = {
        "fence": "far",
        "keeper": "left",
        "pivot": "near-blade",
        "screw": "keeper",
        "radius": "18",
        "thread": "20/in",
    }
    finding = run("five-cut", "fence_end=1.0120 free_end=1.0300 length=15", **facts)
    assert finding.estimates[0].value == pytest.approx(0.0003, rel=1e-9)
    forced = CHECK.moves(taken("five-cut", "fence_end=1.0120 free_end=1.0300 length=15", **facts), finding.founds)[0]
    assert forced.amount_mm == pytest.approx(0.0054 * 25.4, rel=1e-9)
    assert "0.0055 in at the screw" in forced.text and "About 1/8 of a turn" in forced.text
    assert "feelers 0.004 + 0.0015" in forced.text
    assert "the left end of the fence away from you" in forced.text


def test_closing_worked_by_hand() -> None:
    """-0.012 over 4 x 14.5 is -0.000207; close by 0.0033 in at 16 in."""
    typed = "fence_end=1.0455 free_end=1.0335 length=14.5"
    finding = run("five-cut", typed, radius="16", fence="operator", keeper="left")
    assert finding.estimates[0].value == pytest.approx(-0.000207, abs=5e-7)
    (move,) = CHECK.moves(taken("five-cut", typed, radius="16", fence="operator", keeper="left"), finding.founds)
    assert move.direction == "close" and "the left end of the fence away from you" in move.text
    assert move.amount_mm == pytest.approx(0.0033 * 25.4, rel=0.01)
    assert "on the side the fence moves to" in move.text  # pivot and screw are not known


def test_a_move_thinner_than_any_feeler_takes_two() -> None:
    typed = "fence_end=1.0000 free_end=1.0200 length=14"
    (move,) = CHECK.moves(taken("five-cut", typed, radius="3"), run("five-cut", typed).founds)
    assert "Put a 0.0025 feeler between them. Swap it for the 0.0015." in move.text


@pytest.mark.parametrize(
    ("fence_end", "free_end", "angle", "out"),
    [("0.702", "0.723", 0.000500, True), ("0.655", "0.672", 0.000405, True), ("0.688", "0.685", -0.000071, False)],
)
def test_trials(fence_end: str, free_end: str, angle: float, out: bool) -> None:
    """Invented trials over 10.5 in, read with a caliper: the third is not proven, and no run of it gives a move."""
    finding = run("five-cut", f"fence_end={fence_end} free_end={free_end} length=10.5")
    found = estimate(finding, "fence-angle")
    assert found.value == pytest.approx(angle, abs=5e-7)
    assert found.decision == ("proven-out" if out else "not-proven")
    assert bool(finding.moves) is out
    assert ("one-run" in codes(finding)) is not out


def test_stop_adjusting_when_the_readings_cannot_show_it() -> None:
    """Worked by hand: a taper of 0.0015 over 16 in is 2.3e-5, less than any reading shows."""
    finding = run("five-cut", "fence_end=1.0145 free_end=1.0130 length=16")
    assert finding.estimates[0].value == pytest.approx(-2.34e-5, abs=1e-7)
    assert not finding.moves


def test_saw_or_measuring() -> None:
    """Worked by hand: ends read 1.012, 1.013, 1.011 and 1.014, 1.012, 1.013 differ by less than they wander."""
    typed = "fence_end=1.012 fence_end=1.013 fence_end=1.011 free_end=1.014 free_end=1.012 free_end=1.013 length=15"
    finding = run("five-cut", typed)
    assert not finding.moves and finding.estimates[0].decision == "not-proven"


def test_a_shop_with_an_untouched_pair_may_be_proven_in() -> None:
    typed = ["fence_end=0.688", "free_end=0.688", "length=10.5"]
    seen = take(CHECK, typed, scatter=EstimatedSd(5e-5, 8, seen=4, pairs=1))
    assert examine(seen).estimates[0].decision == "proven-in"
    assert examine(take(CHECK, typed)).estimates[0].decision == "not-proven"


def test_the_caliper_s_limit_of_error_cancels() -> None:
    labels = {c.label for c in run("five-cut", CONTRACT).estimates[0].components}
    assert "caliper: limit of error" not in labels and "seating of the cuts" in labels


def test_the_tolerance_is_that_of_fine_work() -> None:
    """Common practice: 0.0024 in per foot, both ways."""
    assert (TOLERANCE.low, TOLERANCE.high) == pytest.approx((-0.0024 / 12, 0.0024 / 12))


def test_what_moves_every_run_moves_the_angle_as_much_and_the_same_way() -> None:
    one = taken("five-cut", CONTRACT)
    seating = one.between_runs()
    assert covariance(CHECK.evaluate(one)[0].value, seating) == pytest.approx(seating.u**2) and seating.u > 0.0


# --- blunders: each made, and one that comes close

GOOD = "fence_end=1.0120 fence_end=1.0115 free_end=1.0300 free_end=1.0305 length=15"


def test_a_good_run_warns_of_nothing() -> None:
    assert codes(run("five-cut", GOOD)) <= {"one-run"}


def test_unit_slip_is_refused_and_the_likely_value_named() -> None:
    """Worked by hand: 25.62 / 1.0120 is within 3 % of 25.4; 25.62 / 25.4 = 1.0087."""
    finding = run("five-cut", "fence_end=1.0120 free_end=25.62 length=15")
    assert acts(finding) == {"unit-slip": "refuse", "unexpected-size": "doubt"} or "unit-slip" in codes(finding)
    assert finding.refused and "1.0087" in finding.refused[0].text and not finding.estimates
    for ends in ("fence_end=1.0120 free_end=25.62", "fence_end=25.62 free_end=1.0120"):
        assert ends_disagree(taken("five-cut", f"{ends} length=15")) is None  # said once


def test_unit_slip_in_a_metric_book() -> None:
    finding = run("five-cut", "fence_end=25.70 free_end=1.03 length=380", unit="mm")
    assert "unit-slip" in codes(finding) and "26.16" in finding.refused[0].text


def test_no_unit_slip_at_another_ratio() -> None:
    assert "unit-slip" not in codes(run("five-cut", "fence_end=0.1000 free_end=2.4 length=15"))  # 24.0, 5.5 % away


def test_ends_that_disagree_are_doubted() -> None:
    finding = run("five-cut", "fence_end=1.000 free_end=1.210 length=15")
    assert acts(finding)["ends-disagree"] == "doubt" and not finding.moves
    assert "ends-disagree" not in codes(run("five-cut", "fence_end=1.000 free_end=1.195 length=15"))


def test_a_taper_that_no_screw_can_mend() -> None:
    assert acts(run("five-cut", "fence_end=1.500 free_end=1.760 length=15"))["taper-implausible"] == "doubt"
    assert "taper-implausible" in codes(run("five-cut", "fence_end=1.000 free_end=1.170 length=4"))
    assert "taper-implausible" not in codes(run("five-cut", "fence_end=1.000 free_end=1.150 length=4"))


def test_burr() -> None:
    near = run("five-cut", GOOD.replace("1.0115", "1.0101"))
    assert "burr" not in codes(near)
    assert acts(run("five-cut", GOOD.replace("1.0115", "1.0095")))["burr"] == "note"
    assert acts(run("five-cut", GOOD.replace("1.0115", "1.0040")))["burr"] == "doubt"


def test_bowed_strip() -> None:
    ends = "fence_end=1.0120 free_end=1.0180 length=15"
    assert acts(run("five-cut", f"{ends} middle=1.0200 middle=1.0201"))["bowed-strip"] == "doubt"
    assert acts(run("five-cut", f"{ends} middle=1.0184"))["bowed-strip"] == "note"
    assert "bowed-strip" not in codes(run("five-cut", f"{ends} middle=1.0175"))
    assert "thin in the middle" in next(s.text for s in run("five-cut", f"{ends} middle=1.0090").seen)


def test_fraction_display() -> None:
    """1/128 in is 0.0078125: 1.016, 1.023, 1.031 and 1.039 are 130, 131, 132 and 133 of them to three digits."""
    made = "fence_end=1.016 fence_end=1.023 free_end=1.031 free_end=1.039 length=15"
    assert acts(run("five-cut", made))["fraction-display"] == "doubt"
    assert "fraction-display" not in codes(run("five-cut", made.replace("1.023", "1.021")))
    assert "fraction-display" not in codes(run("five-cut", made.replace("1.039", "1.032")))  # two within one step
    assert "fraction-display" not in codes(run("five-cut", "fence_end=1.016 free_end=1.031 length=15"))
    typed_as_fractions = "fence_end=1 fence_end=1-1/128 free_end=1-1/64 free_end=1-3/128 length=15"
    assert "fraction-display" not in codes(run("five-cut", typed_as_fractions))


def test_nothing_to_divide_by() -> None:
    assert acts(run("five-cut", "fence_end=1.01 free_end=1.03 length=0"))["no-size"] == "refuse"
    assert "no-size" in codes(run("five-cut", "fence_end=0 free_end=1.03 length=15"))
    assert "free_end cannot be 0" in run("five-cut", "fence_end=1.03 free_end=0 length=15").refused[0].text


def test_length_in_the_other_unit_is_doubted() -> None:
    """The sum itself would only come out 25 times too small."""
    finding = run("five-cut", "fence_end=1.0120 free_end=1.0300 length=381")
    assert acts(finding)["unexpected-size"] == "doubt" and not finding.moves


# --- drawings


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_drawings_follow_the_layout(fence: str, keeper: str) -> None:
    run_taken = taken("five-cut", CONTRACT, fence=fence, keeper=keeper)
    before = CHECK.draw(run_taken, ())
    after = CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    (arrow,) = [shape for shape in after.shapes if shape.role == "move" and hasattr(shape, "start")]
    assert (arrow.end[1] > arrow.start[1]) == (fence == "far")  # to open, the end goes out of the work
    assert (arrow.start[0] < 0) == (keeper == "left")
    assert COMPASS[fence, keeper] in after.told and "tight by 0.0120 in/ft" in after.told
    ends = {label.text: label.at[1] for label in before.shapes if hasattr(label, "text")}
    assert (ends["fence end"] > ends["free end"]) == (fence == "far")


def test_drawing_says_what_it_assumes() -> None:
    assert "Drawn for a far fence" in CHECK.draw(taken("five-cut", CONTRACT), ()).told
    finding = run("five-cut", "fence_end=1.0455 free_end=1.0335 length=14.5")
    closing = CHECK.draw(taken("five-cut", "fence_end=1.0455 free_end=1.0335 length=14.5", "mm"), finding.founds)
    assert "into the work" in closing.told and "mm per 300 mm" in closing.told


def both_drawings(fence: str, keeper: str, typed: str = CONTRACT) -> tuple[Normal, Normal]:
    one = taken("five-cut", typed, fence=fence, keeper=keeper)
    drawn = (CHECK.draw(one, ()), CHECK.draw(one, CHECK.evaluate(one)))
    return normal(drawn[0], keeper, fence), normal(drawn[1], keeper, fence)


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_what_is_drawn_lies_where_it_lies_on_the_sled(fence: str, keeper: str) -> None:
    """The platform and the board are on the keeper's side, the strip beyond the blade, the fence along one end."""
    before, after = both_drawings(fence, keeper)
    where = {text: side(at) for text, at in before.labels.items()}
    assert where["fresh edge"] == "keeper fence" and where["travel"] == "keeper free"
    assert where["fence end"] == "offcut fence" and where["free end"] == where["length"] == "offcut free"
    assert where["middle"].startswith("offcut") and before.labels["travel"][1] < -4.0 + 0.5
    (strip,), (board,), (sled,), (bar,) = (before.paths[role] for role in ("strip", "board", "sled", "fence"))
    assert box(strip)[1] < 0.0 < box(strip)[1] + 0.5 and box(board)[:2] == (0.0, 8.0) and box(sled)[:2] == (0.0, 12.0)
    assert box(bar)[0] < 0.0 and box(bar)[1:] == (12.0, 4.0, 5.0)
    *across, along = before.arrows["measure"]
    assert all(box(strip)[0] <= a[0] < b[0] <= box(strip)[1] and a[1] == b[1] for a, b in (sorted(x) for x in across))
    assert sorted(a[1] for a, _ in across) == [-3.5, 0.0, 3.5] and along == ((-9.0, 3.5), (-9.0, -3.5))
    assert before.labels["fence end"][0] < box(strip)[0] and before.labels["length"][0] < -9.0
    (wanted,) = after.lines["wanted"]
    assert wanted[0][0] < 0.0 < wanted[1][0] and wanted[0][1] == wanted[1][1] == 4.0
    assert side(after.labels["open: " + next(t for t in after.labels if t.startswith("open"))[6:]]) == "blade free"


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("tight", [True, False])
def test_the_fence_is_drawn_as_it_leans_and_the_arrow_beside_it(fence: str, keeper: str, tight: bool) -> None:
    """A tight corner: the end far from the blade stands in the work, at lower y, and goes out to open."""
    typed = CONTRACT if tight else "fence_end=0.538 free_end=0.500 length=9.5"
    _, after = both_drawings(fence, keeper, typed)
    assert box(after.paths["sled"][0])[:2] == (0.0, 12.0)
    (bar,), ((start, end),) = after.paths["fence"], after.arrows["move"]
    far, near = sum(y for _, y in bar[2:]), sum(y for _, y in bar[:2])
    assert (far < near) == tight and abs(far - near) > 2.0 and abs(near - 2 * 4.5) < 1.0
    assert -1.5 < box(bar)[0] < 0.0 and 11.0 < box(bar)[1] < 12.5
    one = taken("five-cut", typed, fence=fence, keeper=keeper)
    told = CHECK.draw(one, CHECK.evaluate(one)).told
    assert f"keeper is {'tight' if tight else 'open'} by" in told
    assert (sense_of(told) == "clockwise") == ((keeper == "left") == ((fence == "far") == tight))
    assert (end[1] > start[1]) == tight and (start[1] < 4.5) == tight and start[0] == 11.0
    (label,) = [text for text in after.labels if text.startswith(("open: ", "close: "))]
    assert label.startswith("open: " if tight else "close: ")
    assert label.partition(": ")[2] in COMPASS[fence, keeper] or not tight


def test_names_stand_beside_the_strip_and_not_on_it() -> None:
    """A name to the right of the strip begins where it stands, one to its left ends there; a little below the arrow."""
    for keeper, anchor in (("left", "start"), ("right", "end")):
        drawn = CHECK.draw(taken("five-cut", CONTRACT, fence="far", keeper=keeper), ())
        assert {s.text: s.at[1] for s in drawn.shapes if getattr(s, "text", "") == "middle"} == {"middle": -0.4}
        assert {s.text: s.at[1] for s in drawn.shapes if getattr(s, "text", "") == "travel"} == {"travel": -4.4}
        assert {s.anchor for s in drawn.shapes if getattr(s, "text", "") in ("fence end", "free end")} == {anchor}


# --- coverage


def test_coverage() -> None:
    """95 % intervals over boards cut in all four layouts; the sampling error of 1,000 runs is 0.7 points."""
    assert 0.93 <= coverage(five_cut, 1000, seed=20)["fence-angle"] <= 0.97


def test_the_step_tells_which_way_the_panel_is_turned() -> None:
    """As the geometry has it: the fresh edge looks toward the blade and must come to look toward the fence."""
    (step,) = (step.text for step in CHECK.steps if step.text.startswith("Turn the panel"))
    turns = {(f, k): SledLayout(f, k).board_turn() for f in ("far", "operator") for k in ("left", "right")}
    assert "counterclockwise for a far fence with the keeper left and for an operator's fence with the keeper" in step
    assert turns["far", "left"] == turns["operator", "right"] == "counterclockwise"
    assert turns["far", "right"] == turns["operator", "left"] == "clockwise" and "clockwise for the other two" in step
