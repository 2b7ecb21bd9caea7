"""Flip test: signs proved on boards that are really cut and rolled over, the worked example, blunders."""

import pytest
from tests.checks.drawn import box, normal, side
from tests.checks.ran import acts, codes, coverage, estimate, run, sense_of, simulate, taken
from tests.checks.simulated_fence import flip
from tests.worlds.flip import cut_in_two
from tests.worlds.sled import LAYOUTS, Sled

from trued.checks.flip import CHECK, implausible
from trued.measure.estimate import covariance
from trued.procedure import Severity

BOARD = "board@keeper=5.500 board@offcut=5.500 apart=18"
OUT = f"{BOARD} where=away gap=0.008"


def readings_of(sled: Sled, taper: float = 0.0) -> list[str]:
    pair = cut_in_two(sled, taper=taper)
    typed = [f"board@keeper={pair.keeper_width:.7f}", f"board@offcut={pair.offcut_width:.7f}"]
    where = pair.where if pair.gap > 0.0 else "none"
    return [*typed, f"apart={pair.apart:.6f}", f"gap={pair.gap:.7f}", f"where={where}"]


# --- signs, on boards that are really cut


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("tight", [0.0013, -0.0009])
@pytest.mark.parametrize("taper", [0.0, 9e-5, -9e-5])
def test_the_estimate_is_how_tight_the_corner_is(fence: str, keeper: str, tight: float, taper: float) -> None:
    sled = Sled(fence, keeper)
    sled.make_tight(tight)
    found = estimate(run("flip", readings_of(sled, taper), fence=fence, keeper=keeper), "fence-angle")
    assert found.value == pytest.approx(tight, abs=3e-6)


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("tight", [0.001, -0.001])
@pytest.mark.parametrize("response", [0.7, 1.3])
def test_two_moves_bring_it_in(fence: str, keeper: str, tight: float, response: float) -> None:
    sled = Sled(fence, keeper)
    sled.make_tight(tight)
    for _ in range(2):
        finding = run("flip", readings_of(sled), fence=fence, keeper=keeper)
        for move in CHECK.moves(taken("flip", readings_of(sled), fence=fence, keeper=keeper), finding.founds):
            sense = sense_of(move.text)
            sled.turn_fence(response * abs(finding.founds[0].value.value), sense)
    assert abs(sled.tight) < 2e-4


def test_a_fence_that_stands_square_leaves_no_gap() -> None:
    pair = cut_in_two(Sled("far", "left"))
    assert pair.gap == pytest.approx(0.0, abs=1e-12)


# --- worked example


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_worked_by_hand(fence: str, keeper: str) -> None:
    """0.008 over 5.5 in is 0.0007 rad, 0.0087 in per foot; open away from the straightedge: corner tight."""
    finding = run("flip", OUT, fence=fence, keeper=keeper)
    found = estimate(finding, "fence-angle")
    assert found.value == pytest.approx(0.008 / 11, rel=1e-9) and found.decision == "proven-out"
    (move,) = finding.moves
    assert move.direction == "open" and "0.0087 in/ft" in move.text
    assert (sense_of(move.text) == "clockwise") == (
        (keeper == "left") == (fence == "far")
    ) and "by the five-cut" in move.text
    assert move.amount_mm is None and "--radius" in move.text


def test_open_at_the_straightedge_is_an_open_corner() -> None:
    finding = run("flip", OUT.replace("away", "straightedge"), radius="18", pivot="near-blade", screw="keeper")
    assert estimate(finding, "fence-angle").value == pytest.approx(-0.008 / 11, rel=1e-9)
    (move,) = finding.moves
    assert move.direction == "close" and move.where == "screw" and move.text.startswith("Close the corner")
    assert move.amount_mm == pytest.approx(0.008 / 11 * 18 * 25.4, rel=1e-9)
    assert "on the work side" in move.text


def test_the_thinnest_feeler_sees_so_much() -> None:
    """0.0015 at 5.5 in is 0.0016 in per foot: below that nothing is read, and nothing is proven by one board."""
    finding = run("flip", f"{BOARD} where=none gap=0")
    found = estimate(finding, "fence-angle")
    assert found.value == pytest.approx(0.0, abs=1e-12) and found.decision == "not-proven"
    hidden = {c.label: c.u for c in found.components}["below the thinnest feeler"]
    assert hidden * 3**0.5 == pytest.approx(0.0016 / 12, rel=0.03)


def test_half_of_the_board_s_taper_is_taken_off() -> None:
    """0.002 over 18 in is 1.1e-4; half of it belongs to the board."""
    wide = run("flip", OUT.replace("offcut=5.500", "offcut=5.502"))
    assert estimate(wide, "fence-angle").value == pytest.approx(0.008 / 11.002 + 0.002 / 36, rel=1e-9)


# --- blunders: each made, and one that comes close


def test_a_good_run_warns_of_nothing() -> None:
    assert not codes(run("flip", f"{OUT} mark=under gap=0.0095"))


def test_not_rolled_over() -> None:
    finding = run("flip", f"{BOARD} where=none gap=0 mark=up")
    assert acts(finding)["not-rolled"] == "refuse" and not finding.estimates


def test_a_gap_without_its_place() -> None:
    assert acts(run("flip", f"{BOARD} where=none gap=0.004"))["gap-without-place"] == "refuse"
    other = run("flip", f"{BOARD} where=away gap=0")
    assert "where=none" in other.refused[0].text
    assert "gap-without-place" not in codes(run("flip", f"{BOARD} where=none gap=0"))


def test_a_board_that_is_not_parallel() -> None:
    finding = run("flip", OUT.replace("offcut=5.500", "offcut=5.510"))
    assert acts(finding)["not-parallel"] == "refuse" and "0.0100 in wider" in finding.refused[0].text
    assert "not-parallel" not in codes(run("flip", OUT.replace("offcut=5.500", "offcut=5.503")))


def test_unit_slip() -> None:
    finding = run("flip", OUT.replace("offcut=5.500", "offcut=139.7"))
    assert "unit-slip" in codes(finding) and "not-parallel" not in codes(finding)
    assert any("5.5000" in seen.text for seen in finding.refused)


def test_a_burr() -> None:
    assert acts(run("flip", f"{OUT} board@offcut=5.515"))["burr"] == "doubt"
    assert acts(run("flip", f"{OUT} board@offcut=5.503"))["burr"] == "note"
    assert "burr" not in codes(run("flip", f"{OUT} board@offcut=5.5019"))


def test_gaps_that_disagree() -> None:
    assert acts(run("flip", f"{OUT} gap=0.0115"))["gaps-disagree"] == "doubt"
    assert "gaps-disagree" not in codes(run("flip", f"{OUT} gap=0.0109"))


def test_more_than_a_fence_is_ever_out() -> None:
    finding = run("flip", OUT.replace("0.008", "0.111"))
    assert acts(finding)["gap-implausible"] == "doubt" and not finding.moves
    assert "gap-implausible" not in codes(run("flip", OUT.replace("0.008", "0.109")))
    # 0.02 of the narrower end, 5.5 in, is 0.110; the wider would allow 0.112
    apart = OUT.replace("offcut=5.500", "offcut=5.600").replace("gap=0.008", "gap=0.111 gap=0.050")
    assert implausible(taken("flip", apart)) is not None
    assert implausible(taken("flip", apart.replace("keeper=5.500", "keeper=0"))) is None


def test_nothing_to_divide_by() -> None:
    assert "no-size" in codes(run("flip", OUT.replace("apart=18", "apart=0")))
    assert "board cannot be 0" in run("flip", OUT.replace("keeper=5.500", "keeper=0")).refused[0].text


def test_honest_runs_are_hardly_ever_doubted() -> None:
    stopped = 0
    for _, one in simulate(flip, 400, seed=31):
        seen = [s for blunder in one.check.blunders if (s := blunder(one)) is not None]
        stopped += any(s.act is not Severity.NOTE for s in seen)
    assert stopped < 4


# --- drawings


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_drawings(fence: str, keeper: str) -> None:
    for typed in (OUT, OUT.replace("away", "straightedge")):
        one = taken("flip", typed, fence=fence, keeper=keeper)
        assert "rolled over about its long axis" in CHECK.draw(one, ()).told
        after = CHECK.draw(one, CHECK.evaluate(one))
        assert "end of the fence" in after.told and keeper in after.told
        assert [shape for shape in after.shapes if shape.role == "move" and hasattr(shape, "start")]


def test_the_drawing_says_what_it_assumes() -> None:
    assumed = "Drawn for a far fence with the keeper left."
    assert assumed in CHECK.draw(taken("flip", OUT), ()).told
    assert assumed not in CHECK.draw(taken("flip", OUT, fence="far", keeper="left"), ()).told


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_the_pieces_lie_as_they_lay_at_the_blade(fence: str, keeper: str) -> None:
    """Keeper on its own side, the straightedge on that of the fence, the offcut beyond; it is the one rolled over."""
    before = normal(CHECK.draw(taken("flip", OUT, fence=fence, keeper=keeper), ()), keeper, fence)
    assert side(before.labels["straightedge"]) == "blade fence"
    assert {side(before.labels[t])[:6] for t in ("keeper", "fence edge")} == {"keeper"}
    assert {side(before.labels[t])[:6] for t in ("offcut", "other edge", "rolled over")} == {"offcut"}
    assert box(before.paths["keeper"][0])[0] > 0.0 > box(before.paths["offcut"][0])[1]
    ((start, end),) = before.arrows["move"]
    assert (
        start[0] == end[0] == -9.0 and start[1] < end[1] < 0.0
    )  # from above down onto the offcut, away from the straightedge


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
@pytest.mark.parametrize("where", ["away", "straightedge"])
def test_the_gap_is_drawn_where_it_is(fence: str, keeper: str, where: str) -> None:
    """Two tight corners meet at the straightedge and stand apart away from it, two open ones the other way."""
    one = taken("flip", OUT.replace("away", where), fence=fence, keeper=keeper)
    drawing = CHECK.draw(one, CHECK.evaluate(one))
    after, away = normal(drawing, keeper, fence), where == "away"
    for sign, (piece,) in ((1, after.paths["keeper"]), (-1, after.paths["offcut"])):
        ends = {y: min(sign * x for x, at in piece if at == y) for y in (-5.5, 1.0)}
        assert min(ends.values()) == pytest.approx(0.1) and (ends[-5.5] > ends[1.0]) == away
    assert side(after.labels["gap"]) == ("blade free" if away else "blade fence")
    meet, apart, corner = (
        ("at the straightedge", "away from it", "tight") if away else ("away from the straightedge", "at it", "open")
    )
    assert f"meet {meet} and stand apart {apart}," in drawing.told and f"the corner is {corner} by" in drawing.told
    bar = max(after.paths["fence"], key=lambda path: box(path)[3])
    inner, outer = sum(y for _, y in bar[:2]), sum(y for _, y in bar[2:])
    assert (outer < inner) == away and box(bar)[1] > 10.0  # the far end of a tight fence stands in the work
    ((start, end),) = after.arrows["move"]
    assert start[0] == 11.0 and (end[1] > start[1]) == away
    assert ("open the fence" if away else "close the fence") in after.labels


def test_what_moves_every_run_moves_the_angle_as_much_and_the_same_way() -> None:
    one = taken("flip", OUT)
    seating = one.between_runs()
    assert covariance(CHECK.evaluate(one)[0].value, seating) == pytest.approx(seating.u**2) and seating.u > 0.0


# --- coverage


def test_coverage() -> None:
    """95 % intervals over boards cut in all four layouts; the sampling error of 500 runs is 1 point."""
    assert 0.92 <= coverage(flip, 500, seed=21)["fence-angle"] <= 0.98
