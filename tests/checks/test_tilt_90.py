"""Tilt stop at 90 degrees: blocks that are really cut by a leaning plane, worked examples, blunders, drawings."""

import math
import re

import pytest
from tests.checks.drawn import arrows, lines
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_saw import tilt_90
from tests.worlds.tilt import Leaning, block, end_for_end

from trued.checks.tilt_90 import CHECK
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.procedure import examine, take

SHOP = EstimatedSd(math.radians(0.01), 8, seen=4, pairs=1)


def readings_of(blade: Leaning, height: float = 2.4, taper: float = 0.0, *, twice: bool = False) -> list[str]:
    piece = block(height, taper)
    gap, at = blade.gap(piece)
    typed = ["cycled=yes", "square=light", f"height={height}", f"gap={gap:.6f}", f"at={at}"]
    if twice:
        gap, at = blade.gap(end_for_end(piece))
        typed += [f"gap_turned={gap:.6f}", f"at_turned={at}"]
    return typed


# --- signs, on blocks that are really cut


@pytest.mark.parametrize("keeper", ["left", "right"])
@pytest.mark.parametrize("lean", [0.003, -0.003, 0.0009])
def test_positive_is_the_top_of_the_blade_toward_the_keeper(keeper: str, lean: float) -> None:
    found = estimate(run("tilt-90", readings_of(Leaning(lean, keeper)), keeper=keeper), "bevel@0")
    assert found.value == pytest.approx(lean, rel=0.01)


@pytest.mark.parametrize("keeper", ["left", "right"])
@pytest.mark.parametrize("lean", [0.0044, -0.0044])
@pytest.mark.parametrize("response", [0.7, 1.0, 1.3])
def test_at_most_two_moves_set_it_upright(keeper: str, lean: float, response: float) -> None:
    blade = Leaning(lean, keeper)
    for _ in range(2):
        read = take(CHECK, readings_of(blade), {"keeper": keeper}, scatter=SHOP)
        finding = examine(read)
        if finding.estimates[0].decision == "proven-in":
            break
        (move,) = CHECK.moves(read, finding.founds)
        way = re.search(r"Tilt the top of the blade (away from|toward) the keeper", move.text)
        assert way is not None
        blade.tilt(response * abs(finding.estimates[0].value), away=way[1] == "away from")
        to_left = "(left)" in move.text
        assert to_left == ((keeper == "left") != (way[1] == "away from"))
    assert abs(blade.lean) < math.radians(0.05)


@pytest.mark.parametrize("taper", [0.002, -0.003])
def test_a_tapered_block_cut_from_both_ends_tells_the_same_as_a_parallel_one(taper: float) -> None:
    """A taper adds once: turned end for end before the cut, it takes away as much."""
    blade = Leaning(0.0015)
    once = estimate(run("tilt-90", readings_of(blade, taper=taper)), "bevel@0")
    both = estimate(run("tilt-90", readings_of(blade, taper=taper, twice=True)), "bevel@0")
    assert abs(once.value - 0.0015) == pytest.approx(abs(taper) / 2, rel=0.05)
    assert both.value == pytest.approx(0.0015, rel=0.02)


# --- worked examples


def test_worked_example() -> None:
    """0.008 over twice 2.4 is 0.00167, 0.095 degrees."""
    finding = run("tilt-90", CHECK.example.given, keeper="left", stop_radius="5", stop_thread="20/in")
    found = estimate(finding, "bevel@0")
    assert found.value == pytest.approx(0.00167, abs=5e-6)
    assert math.degrees(found.value) == pytest.approx(0.095, abs=1e-3)
    (move,) = finding.moves
    assert move.direction == "away" and "by 0.095°. Zero" in move.text
    assert move.amount_mm == pytest.approx(0.00833 * 25.4, rel=1e-3) and "about 3/16 of a turn" in move.text


def test_three_inches_worked_by_hand() -> None:
    """0.010 over twice 3.0 is 0.0017; at the bottom the sense is the other one."""
    typed = "cycled=yes square=light gap=0.010 at=bottom height=3.0"
    (move,) = run("tilt-90", typed).moves
    assert estimate(run("tilt-90", typed), "bevel@0").value == pytest.approx(-0.0017, abs=5e-5)
    assert move.direction == "toward-keeper" and move.amount_mm is None and "0.095°" in move.text
    assert "operator" not in move.text


def test_in_when_the_shop_has_shown_its_scatter_and_no_feeler_goes_in() -> None:
    typed = ["cycled=yes", "square=no-light", "gap=0", "at=none", "height=2.4"]
    assert examine(take(CHECK, typed, scatter=SHOP)).estimates[0].decision == "proven-in"
    first = run("tilt-90", typed)
    assert first.estimates[0].decision == "not-proven" and "one-run" in codes(first)


def test_without_a_thread_the_gauge_alone_tells_how_far() -> None:
    """One unit for a move, that of the gauge: the way of the stop is in the answer's amount, not in its words."""
    (move,) = run("tilt-90", CHECK.example.given, stop_radius="5").moves
    assert "until the gauge shows 0.095°" in move.text and "0.0083" not in move.text
    assert move.amount_mm == pytest.approx(0.00833 * 25.4, rel=1e-3)


# --- blunders


def changed(**new: str) -> list[str]:
    given = dict(text.split("=") for text in CHECK.example.given) | new
    return [f"{name}={value}" for name, value in given.items()]


def test_a_good_run_warns_of_nothing() -> None:
    assert codes(run("tilt-90", changed())) == set()


def test_dust_under_the_stop() -> None:
    made = run("tilt-90", changed(cycled="no"))
    assert acts(made)["not-cycled"] == "doubt" and not made.moves


def test_turned_end_for_end_instead_of_rolled() -> None:
    """The ends always close then; only the square knows better."""
    made = run("tilt-90", changed(gap="0", at="none"))
    assert acts(made)["turned-not-rolled"] == "doubt"
    assert "turned-not-rolled" not in codes(run("tilt-90", changed(gap="0", at="none", square="no-light")))
    assert "turned-not-rolled" not in codes(run("tilt-90", changed(gap="0.002")))
    twice = changed(gap="0", at="none", gap_turned="0.006", at_turned="top")
    assert "turned-not-rolled" not in codes(run("tilt-90", twice))


def test_pushed_back_as_it_lay_the_simulated_cut_closes_whatever_the_lean() -> None:
    keeper, offcut = Leaning(0.004).cut(block(2.4))
    ends = sorted(x for x, _ in keeper)[-2:], sorted(x for x, _ in offcut)[:2]
    assert ends[0][1] - ends[0][0] == pytest.approx(ends[1][1] - ends[1][0])
    assert ends[0][1] - ends[0][0] == pytest.approx(0.004 * 2.4, rel=1e-3)


def test_a_square_that_shows_nothing() -> None:
    made = run("tilt-90", changed(gap="0.010", square="no-light"))
    assert acts(made)["square-disagrees"] == "note"
    assert "square-disagrees" not in codes(run("tilt-90", changed(gap="0.008", square="no-light")))


def test_tapered_block() -> None:
    made = run("tilt-90", changed(gap_turned="0.002", at_turned="top"))
    assert acts(made)["block-tapered"] == "note"
    assert "block-tapered" not in codes(run("tilt-90", changed(gap_turned="0.005", at_turned="top")))


def test_refused() -> None:
    assert acts(run("tilt-90", changed(height="0")))["no-size"] == "refuse"
    assert acts(run("tilt-90", changed(at="none")))["gap-nowhere"] == "refuse"
    assert acts(run("tilt-90", changed(gap_turned="0.005")))["unpaired"] == "refuse"
    assert acts(run("tilt-90", changed(at_turned="top")))["unpaired"] == "refuse"


def test_a_height_in_the_other_unit_is_doubted() -> None:
    assert acts(run("tilt-90", changed(height="61")))["unexpected-size"] == "doubt"


# --- drawings


@pytest.mark.parametrize("keeper", ["left", "right"])
@pytest.mark.parametrize("at", ["top", "bottom"])
def test_the_drawn_blade_leans_as_found_and_the_arrow_mends_it(keeper: str, at: str) -> None:
    read = taken("tilt-90", changed(at=at), keeper=keeper)
    after = CHECK.draw(read, CHECK.evaluate(read))
    (blade,), (arrow,) = lines(after, "blade"), arrows(after)
    k = -1 if keeper == "left" else 1
    assert ((blade.end[0] - blade.start[0]) * k > 0) == (at == "top")
    assert ((arrow.end[0] - arrow.start[0]) * k < 0) == (at == "top")
    assert f"the gap is at the {at}" in after.told and "0.095°" in after.told
    assert "roll the offcut upside down" in CHECK.draw(read, ()).told


# --- coverage


def test_coverage() -> None:
    """95 % intervals; the sampling error of 300 runs is 1.3 points (4,000 runs are made by the benchmark)."""
    assert 0.91 <= coverage(tilt_90, 300, seed=26)["bevel@0"] <= 0.985
