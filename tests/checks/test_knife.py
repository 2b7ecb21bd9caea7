"""Riving knife: pairs of knife and blade as intervals, what blocks a rip, blunders, drawings."""

import re

import pytest
from tests.checks.drawn import arrows, labels, paths
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_saw import knife as simulated_knife
from tests.worlds.knife import Knife

from trued.checks.knife import CHECK
from trued.errors import InputRefused
from trued.measure.decision import ToleranceLimits
from trued.procedure import examine, take


def readings_of(one: Knife) -> list[str]:
    sizes = f"knife={one.thick} plate={one.plate} kerf={one.kerf}"
    gaps = f"gap_side@keeper={one.gap('keeper'):.5f} gap_side@offcut={one.gap('offcut'):.5f}"
    return [
        *sizes.split(),
        *gaps.split(),
        f"to_teeth@nearest={one.to_teeth:.5f}",
        f"to_teeth@farthest={one.to_teeth:.5f}",
    ]


def decisions(typed: list[str]) -> dict[str, str]:
    return {e.feature: str(e.decision) for e in run("knife", typed).estimates}


@pytest.mark.parametrize("aside", [0.004, -0.004, 0.020, -0.020])
def test_room_is_what_is_left_of_the_kerf(aside: float) -> None:
    one = Knife(aside=aside)
    found = estimate(run("knife", readings_of(one)), "knife")
    assert found.value == pytest.approx(one.room() * 25.4, abs=1e-6)
    assert (found.decision == "proven-out") == (abs(aside) > 0.0125)


@pytest.mark.parametrize("aside", [0.03, -0.03, 0.06])
@pytest.mark.parametrize("response", [0.7, 1.0, 1.3])
def test_the_shim_as_told_brings_it_in_line(aside: float, response: float) -> None:
    one = Knife(aside=aside)
    for _ in range(2):
        moves = [m for m in run("knife", readings_of(one)).moves if m.feature == "knife"]
        if not moves:
            break
        way = re.search(r"toward the (keeper's|offcut) side", moves[0].text)
        assert way is not None and moves[0].amount_mm is not None
        one.shim(way[1], response * moves[0].amount_mm / 25.4)
    assert one.room() > 0.0


# --- which pairs are blocked


def test_worked_example() -> None:
    """Offset 0.0025 to the offcut side; 0.0125 less that is 0.010; 0.013 over the plate, 0.025 under the kerf."""
    finding = run("knife", CHECK.example.given)
    assert all(e.decision == "proven-in" and e.safety for e in finding.estimates)
    assert estimate(finding, "knife").value == pytest.approx(0.010 * 25.4)
    assert not finding.moves and not finding.seen


def test_a_full_kerf_knife_with_a_thin_kerf_blade_is_blocked() -> None:
    """Knife 0.100 in a kerf of 0.094: 0.006 too thick."""
    typed = readings_of(Knife(0.100, 0.071, 0.094))
    assert decisions(typed)["knife-under-kerf"] == "proven-out" and decisions(typed)["knife"] == "proven-out"
    move = next(m for m in run("knife", typed).moves if m.feature == "knife-under-kerf")
    assert move.text.startswith("Don't cut with this pair") and "0.0060 in thicker than the kerf" in move.text


def test_a_knife_thinner_than_the_plate_is_blocked() -> None:
    finding = run("knife", readings_of(Knife(0.080, 0.087, 0.125)))
    move = next(m for m in finding.moves if m.feature == "knife-over-plate")
    assert "0.0070 in thinner than the plate" in move.text and move.direction == "thicker"


def test_too_little_to_spare_is_out_and_hardly_enough_is_not_ready() -> None:
    """0.005 in to spare is what is asked for."""
    little = run("knife", readings_of(Knife(0.0885, 0.087, 0.125)))
    assert "only 0.0015 in thicker" in next(m.text for m in little.moves)
    assert decisions(readings_of(Knife(0.0925, 0.087, 0.125)))["knife-over-plate"] == "not-proven"
    assert decisions(readings_of(Knife(0.118, 0.087, 0.125)))["knife-under-kerf"] == "not-proven"


def test_no_knife() -> None:
    finding = run("knife", "knife=0 plate=0.087 kerf=0.125")
    assert decisions(["knife=0", "plate=0.087", "kerf=0.125"]) == {"knife-over-plate": "proven-out"}
    assert acts(finding) == {"knife-absent": "danger"}
    (move,) = finding.moves
    assert "No rip" in move.text
    assert "no rip" in CHECK.draw(taken("knife", "knife=0 plate=0.087 kerf=0.125"), finding.founds).told


def said(typed: str) -> list[str]:
    """The dangers that are said of what was typed, whether the form is whole or refused."""
    try:
        return [seen.text for seen in examine(take(CHECK, typed.split())).dangers]
    except InputRefused as refused:
        return [fault.text for fault in refused.faults if fault.where == "danger"]


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("knife=0.100 plate=0.067 kerf=0.094", "the work jams: the knife is 0.1000 in thick"),
        ("knife=0.100 kerf=0.094", "the work jams"),
        ("knife=0.094 kerf=0.094", "the work jams"),  # as thick is as bad
        ("knife=0.060 plate=0.067", "the kerf can close on the blade"),
        ("knife=0", "no knife is fitted"),
    ],
)
def test_a_danger_is_said_first_though_readings_are_missing(typed: str, code: str) -> None:
    """The three thicknesses alone drew one sentence, that gaps were missing, and not a word that the knife jams."""
    assert code in said(typed)[0].lower()


@pytest.mark.parametrize("typed", ["knife=0.083 plate=0.067 kerf=0.094", "knife=2.1 plate=0.067 kerf=0.094"])
def test_no_danger_of_a_good_pair_or_of_a_slip_of_the_unit(typed: str) -> None:
    assert said(typed) == []


def test_a_knife_that_jams_is_not_sent_to_be_shimmed() -> None:
    """It was told to move the knife by 0.0000 in before it was told that it jams."""
    finding = run("knife", readings_of(Knife(0.130, 0.087, 0.125)))
    assert finding.seen[0].code == "knife-jams"
    assert [move.feature for move in finding.moves] == ["knife-under-kerf"]


@pytest.mark.parametrize(
    ("mm", "decision", "way", "by"), [(2.0, "proven-out", "away from", 3.5), (10.0, "proven-out", "nearer to", 4.5)]
)
def test_distance_to_the_teeth(mm: float, decision: str, way: str, by: float) -> None:
    """3 to 8 mm, from memory: the middle is 5.5."""
    finding = run("knife", readings_of(Knife(to_teeth=mm / 25.4)))
    assert estimate(finding, "knife-gap").decision == decision
    move = next(m for m in finding.moves if m.feature == "knife-gap")
    assert way in move.text and move.amount_mm == pytest.approx(by, abs=1e-3)


def test_the_worse_end_counts() -> None:
    typed = [*readings_of(Knife())[:5], "to_teeth@nearest=5mm", "to_teeth@farthest=9mm"]
    assert estimate(run("knife", typed), "knife-gap").value == pytest.approx(9.0)


@pytest.mark.parametrize(("mm", "way"), [(6.0, "higher by"), (-20.0, "lower by")])
def test_height(mm: float, way: str) -> None:
    finding = run("knife", [*readings_of(Knife()), f"below_top={mm}mm"])
    assert way in next(m.text for m in finding.moves if m.feature == "knife-height")
    assert decisions([*readings_of(Knife()), "below_top=1mm"])["knife-height"] == "proven-in"


def test_no_tolerance_makes_it_wider() -> None:
    read = take(CHECK, CHECK.example.given, limits={"knife": ToleranceLimits.within(5.0)})
    assert next(f.limits for f in CHECK.evaluate(read) if f.feature == "knife") == ToleranceLimits(0.0, 5.0)


def test_the_limit_of_error_cancels_over_the_plate_and_doubles_under_the_kerf() -> None:
    """A kerf is whole less two pieces: a caliper that reads 0.02 mm too much makes it 0.02 too small."""
    finding = run("knife", CHECK.example.given)
    over = {c.label: c.u for c in estimate(finding, "knife-over-plate").components}
    under = {c.label: c.u for c in estimate(finding, "knife-under-kerf").components}
    assert "caliper: limit of error" not in over
    assert under["caliper: limit of error"] == pytest.approx(2 * 0.02 / 3**0.5)


# --- blunders


def test_a_gap_left_out() -> None:
    made = [text for text in readings_of(Knife()) if not text.startswith("to_teeth")]
    assert "to_teeth@nearest, to_teeth@farthest is missing" in run("knife", made).refused[0].text
    assert acts(run("knife", readings_of(Knife())[:3]))["knife-incomplete"] == "refuse"


def test_unit_slip() -> None:
    made = ["plate=2.21" if text.startswith("plate") else text for text in readings_of(Knife())]
    finding = run("knife", made)
    assert finding.refused[0].code == "unit-slip" and "0.0870" in finding.refused[0].text
    metric = run("knife", "knife=2.5 plate=2.2 kerf=0.125 gap_side@keeper=0 gap_side@offcut=0", unit="mm")
    assert "knife-incomplete" in codes(metric) and "3.17" in next(s.text for s in metric.seen if s.code == "unit-slip")
    assert "unit-slip" not in codes(run("knife", readings_of(Knife(plate=0.040))))
    assert "unit-slip" not in codes(run("knife", "knife=0 plate=0.087 kerf=0"))


def test_unit_slip_of_a_gap_to_the_teeth_that_widens() -> None:
    """5 mm at one place and 6.5 mm at the other, one of them typed in the other unit; then 2 and 10 mm, rightly."""
    rest = "knife=2.5 plate=2.2 kerf=3.17 gap_side@keeper=0.3 gap_side@offcut=0.3"
    for near, far, told in (("5", "0.256", "6.5"), ("0.197", "6.5", "5.0")):
        finding = run("knife", f"{rest} to_teeth@nearest={near} to_teeth@farthest={far}", unit="mm")
        assert finding.refused[0].code == "unit-slip" and told in finding.refused[0].text
    inches = run("knife", "knife=0.1 plate=0.087 kerf=0.125 gap_side@keeper=0.01 gap_side@offcut=0.01 "
                 "to_teeth@nearest=0.2 to_teeth@farthest=6.5")  # fmt: skip
    assert inches.refused[0].code == "unit-slip" and "farthest" in inches.refused[0].text
    assert "unit-slip" not in codes(run("knife", f"{rest} to_teeth@nearest=2 to_teeth@farthest=10", unit="mm"))


def test_plate_as_thick_as_the_kerf() -> None:
    assert acts(run("knife", readings_of(Knife(0.100, 0.125, 0.125))))["plate-over-kerf"] == "refuse"
    assert "plate-over-kerf" not in codes(run("knife", readings_of(Knife(0.100, 0.124, 0.125))))


def test_sides_that_disagree_with_the_kerf() -> None:
    """With 0.100 in 0.125 both gaps are 0.025 together."""
    made = (*CHECK.example.given[:4], "gap_side@offcut=0.036", *CHECK.example.given[5:])
    assert acts(run("knife", made))["sides-disagree"] == "doubt"
    near = (*CHECK.example.given[:4], "gap_side@offcut=0.018", *CHECK.example.given[5:])
    assert "sides-disagree" not in codes(run("knife", near))


# --- drawings


@pytest.mark.parametrize("keeper", ["left", "right"])
@pytest.mark.parametrize("aside", [0.020, -0.020])
def test_the_drawn_knife_stands_as_found_and_the_arrow_mends_it(keeper: str, aside: float) -> None:
    read = taken("knife", readings_of(Knife(aside=aside)), keeper=keeper)
    after = CHECK.draw(read, examine(read).founds)
    (body,), (arrow,) = paths(after, "part"), arrows(after)
    middle = sum(x for x, _ in body.points) / 4
    k = -1 if keeper == "left" else 1
    assert (middle * k > 0) == (aside > 0)  # aside > 0 is toward the keeper's side
    assert abs(arrow.end[0]) < abs(arrow.start[0])
    assert "stands out of the kerf" in after.told
    before = {label.text: label.at[0] for label in labels(CHECK.draw(read, ()))}
    assert before["gap, keeper's side"] * k > 0 > before["gap, offcut side"] * k


# --- coverage


def test_coverage() -> None:
    """95 % intervals; the sampling error of 200 runs is 1.5 points (4,000 runs are made by the benchmark)."""
    for feature, held in coverage(simulated_knife, 200, seed=23).items():
        assert 0.91 <= held <= 0.985, feature
