"""Stop scale: a line through parts, the cursor moved the right way, and offsets applied wrongly."""

import math
import re

import pytest
from tests.checks.drawn import box, normal
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated import stop_scale
from tests.worlds.stop import Stop

from trued.checks.stop_scale import CHECK
from trued.measure.estimate import covariance

WORKED = "measured@6=6.004 measured@12=12.006 measured@24=24.010"
LONG = "measured@6=6.021 measured@12=12.022 measured@18=18.021 measured@24=24.022"


def parts(stop: Stop, *readings: float) -> list[str]:
    typed = []
    for reading in readings:
        stop.set_to(reading)
        typed.append(f"measured@{reading:g}={stop.cut():.6f}")
    return typed


def test_worked_by_hand() -> None:
    """A line through 0.004, 0.006 and 0.010 at 6, 12 and 24: 0.002 at the zero, 0.00033 an inch."""
    finding = run("stop-scale", WORKED)
    assert estimate(finding, "stop-offset").value == pytest.approx(0.002 * 25.4, rel=1e-9)
    assert estimate(finding, "stop-slope").value == pytest.approx(0.002 / 6, rel=1e-9)
    assert estimate(finding, "stop-slope").unit == "mm/mm"


def test_offset_and_slope_are_correlated_so_that_between_the_lengths_the_line_is_sure() -> None:
    """With their covariance the error at 14 in, the mean of the lengths, is far smaller than without."""
    offset, slope = (found.value for found in CHECK.evaluate(taken("stop-scale", WORKED)))
    at = 14 * 25.4
    alone = (offset.u**2 + (at * slope.u) ** 2) ** 0.5
    assert covariance(offset, slope) < 0.0
    assert (offset + at * slope).u < 0.5 * alone


@pytest.mark.parametrize("kind", ["rides", "scale-moves"])
@pytest.mark.parametrize("offset", [0.021, -0.021])
def test_the_cursor_moved_as_told_takes_the_offset_away(kind: str, offset: float) -> None:
    stop = Stop(origin=offset)
    (move,) = run("stop-scale", parts(stop, 6, 12, 18, 24), cursor=kind).moves
    assert move.direction == ("shorter" if offset > 0 else "longer")
    assert move.amount_mm == pytest.approx(abs(offset) * 25.4, rel=1e-3)
    until = float(re.search(r"until it reads ([\d.]+)\.", move.text)[1])  # type: ignore[index]
    larger = "larger numbers" in move.text
    assert larger is (offset > 0)
    (stop.move_cursor_until if kind == "rides" else stop.move_scale_until)(until)
    assert abs(stop.offset) < 1e-4
    assert "Slide the scale" in move.text if kind == "scale-moves" else "The cursor goes toward" in move.text


def test_the_opposite_move_doubles_the_offset() -> None:
    """Why the words are "until 24.021 is read" and not "take it off the cursor"."""
    stop = Stop(origin=0.021)
    stop.set_to(24)
    stop.move_cursor_until(24 - 0.021)
    assert stop.offset == pytest.approx(0.042)


def test_setting_less_by_the_offset_also_cures_it() -> None:
    stop = Stop(origin=0.021)
    (move,) = run("stop-scale", parts(stop, 6, 12, 18, 24)).moves
    assert "set 0.0210 in less" in move.text and "numbers" not in move.text
    stop.set_to(12 - 0.021)
    assert stop.cut() == pytest.approx(12.0, abs=1e-9)


def test_a_stretched_scale_is_no_work_for_the_cursor() -> None:
    stop = Stop(stretch=1.003)
    (move,) = run("stop-scale", parts(stop, 6, 12, 18, 24)).moves
    assert move.feature == "stop-slope" and move.where == "scale" and move.amount_mm is None
    table = dict(re.findall(r"([\d.]+): set (\d+\.\d+)", move.text))
    assert len(table) == 4
    for wanted, reading in table.items():
        stop.set_to(float(reading))
        assert stop.cut() == pytest.approx(float(wanted), abs=2e-4)


def test_a_scale_that_is_long_makes_parts_short() -> None:
    (move,) = run("stop-scale", parts(Stop(stretch=0.997), 6, 12, 18, 24)).moves
    assert move.direction == "longer" and "The scale is long" in move.text


def test_a_scale_that_is_short_makes_parts_long() -> None:
    (move,) = run("stop-scale", parts(Stop(stretch=1.003), 6, 12, 18, 24)).moves
    assert move.direction == "shorter" and "The scale is short" in move.text


@pytest.mark.parametrize("origin", [0.3, -0.3])
def test_the_table_heeds_offset_and_slope_together(origin: float) -> None:
    stop = Stop(origin=origin, stretch=1.003)
    one = taken("stop-scale", parts(stop, 6, 12, 18, 24))
    table = dict(re.findall(r"([\d.]+): set (\d+\.\d+)", CHECK.moves(one, CHECK.evaluate(one))[-1].text))
    assert len(table) == 4
    for wanted, reading in table.items():
        stop.set_to(float(reading))
        assert stop.cut() == pytest.approx(float(wanted), abs=2e-4)


@pytest.mark.parametrize(("offset", "words"), [(0.021, ("long", "less")), (-0.021, ("short", "more"))])
def test_the_words_for_long_and_short(offset: float, words: tuple[str, str]) -> None:
    (move,) = run("stop-scale", parts(Stop(origin=offset), 6, 12, 18, 24)).moves
    assert f"Parts are 0.0210 in {words[0]}" in move.text and f"0.0210 in {words[1]} than you want" in move.text


@pytest.mark.parametrize("typed", [WORKED, "measured@12=12.020"])
def test_a_caliper_that_reads_long_makes_the_offset_larger_by_as_much(typed: str) -> None:
    offset = CHECK.evaluate(taken("stop-scale", typed))[0].value
    assert [c for source, c in offset.parts.items() if source.key.startswith("limit:")] == pytest.approx(
        [1.0], rel=1e-6
    )


def test_what_a_part_may_scatter_before_any_residual_is_seen() -> None:
    """0.005 in of setting and 0.0034 of cutting make 0.00605; over 6 and 24 in that is 0.00605 / (sqrt(2) 9)."""
    slope = estimate(run("stop-scale", "measured@6=6.004 measured@24=24.010"), "stop-slope")
    assert slope.u == pytest.approx(math.hypot(0.005, 0.0034) / (2**0.5 * 9), rel=1e-9)


def test_one_length_gives_the_offset_alone() -> None:
    finding = run("stop-scale", "measured@12=12.020 measured@12=12.022")
    assert [e.feature for e in finding.estimates] == ["stop-offset"]
    assert acts(finding) == {"one-length": "note"} and finding.seen[0].text.startswith("One length shows")
    assert finding.estimates[0].value == pytest.approx(0.021 * 25.4, rel=1e-6)
    assert not finding.moves  # one setting may lie off by itself: the cursor is left alone


def test_two_lengths_are_said_to_show_no_scatter() -> None:
    finding = run("stop-scale", "measured@6=6.004 measured@24=24.010")
    assert acts(finding) == {"two-lengths": "note"} and len(finding.estimates) == 2
    assert finding.seen[0].text.startswith("Two lengths give")
    assert estimate(finding, "stop-slope").value == pytest.approx(0.006 / 18, rel=1e-9)
    assert estimate(finding, "stop-slope").dof == pytest.approx(4)  # all of it is the start


def test_the_residuals_sharpen_the_scatter() -> None:
    steady = estimate(run("stop-scale", LONG), "stop-slope").u
    loose = estimate(run("stop-scale", LONG.replace("12.022", "12.032").replace("18.021", "18.012")), "stop-slope").u
    assert steady < loose


def test_good_readings_warn_of_nothing() -> None:
    assert not codes(run("stop-scale", LONG))


def test_unit_slip() -> None:
    finding = run("stop-scale", LONG.replace("6.021", "152.9"))
    assert acts(finding)["unit-slip"] == "refuse" and "6.0197" in finding.refused[0].text
    finding = run("stop-scale", "measured@152=6.02 measured@305=305.3", "mm")
    assert "152.91" in finding.refused[0].text
    assert "unit-slip" not in codes(run("stop-scale", "measured@6=145"))  # 24.2


def test_burned_inch() -> None:
    assert acts(run("stop-scale", LONG.replace("12.022", "13.022")))["burned-inch"] == "doubt"
    assert acts(run("stop-scale", "measured@300=310.1 measured@600=600.1", "mm"))["burned-inch"] == "doubt"
    assert "burned-inch" not in codes(run("stop-scale", LONG.replace("12.022", "12.900")))


def test_nought_is_refused() -> None:
    assert acts(run("stop-scale", "measured@0=0.004"))["no-size"] == "refuse"
    assert "no-size" in codes(run("stop-scale", "measured@6=0 measured@12=12.01"))


def test_fraction_display() -> None:
    """To three digits on 1/128 in: 6 1/64, 12 3/128, 18 1/32, 24 5/128."""
    made = "measured@6=6.016 measured@12=12.023 measured@18=18.031 measured@24=24.039"
    assert acts(run("stop-scale", made))["fraction-display"] == "doubt"
    assert "fraction-display" not in codes(run("stop-scale", made.replace("12.023", "12.027")))


WRITTEN = 0.375  # in; "length = reading + 3/8" stands on the fence


@pytest.mark.parametrize(("share", "code"), [(2.0, "offset-sign"), (1.0, "offset-left-out"), (-1.0, "offset-twice")])
def test_written_offset_used_wrongly(share: float, code: str) -> None:
    """Subtracted instead of added the error is exactly twice the offset; applied twice it is once, short."""
    typed = parts(Stop(origin=share * WRITTEN), 6, 12, 18, 24)
    finding = run("stop-scale", typed, offset="3/8")
    assert acts(finding)[code] == "doubt"
    assert f"Parts are {'long' if share > 0.0 else 'short'} by" in next(s.text for s in finding.seen if s.code == code)
    assert code not in codes(run("stop-scale", typed))
    near = parts(Stop(origin=share * WRITTEN * 0.95), 6, 12, 18, 24)
    assert not {"offset-sign", "offset-left-out", "offset-twice"} & codes(run("stop-scale", near, offset="3/8"))


def test_a_small_written_offset_cannot_be_told_from_scatter() -> None:
    typed = parts(Stop(origin=0.02), 6, 12, 18, 24)
    assert not {"offset-sign", "offset-left-out"} & codes(run("stop-scale", typed, offset="0.02"))


@pytest.mark.parametrize(("keeper", "sign"), [("left", -1), ("right", 1)])
def test_drawing_moves_the_cursor_outward_when_parts_are_long(keeper: str, sign: int) -> None:
    run_taken = taken("stop-scale", LONG, keeper=keeper)
    after = CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    (arrow,) = [s for s in after.shapes if s.role == "move" and hasattr(s, "start")]
    assert (arrow.end[0] - arrow.start[0]) * sign > 0 and "must come to read larger numbers" in after.told
    short = taken("stop-scale", LONG.replace(".02", ".00").replace("6.00", "5.98"), keeper=keeper)
    assert CHECK.draw(short, ()).told != after.told


def test_drawing_of_short_parts() -> None:
    run_taken = taken("stop-scale", "measured@6=5.98 measured@12=11.98")
    told = CHECK.draw(run_taken, CHECK.evaluate(run_taken)).told
    assert "smaller numbers" in told and "Parts come out short by 0.0200 in" in told
    one = taken("stop-scale", LONG)
    assert "Parts come out long by" in CHECK.draw(one, CHECK.evaluate(one)).told


@pytest.mark.parametrize("keeper", ["", "left", "right"])
def test_fence_stop_and_board_lie_on_the_keeper_s_side(keeper: str) -> None:
    """Left of the blade when nobody says where."""
    one = taken("stop-scale", LONG, **({"keeper": keeper} if keeper else {}))
    founds = CHECK.evaluate(one)
    for drawing in (CHECK.draw(one, ()), CHECK.draw(one, founds)):
        seen = normal(drawing, keeper or "left")
        assert [box(seen.paths[role][0])[:2] for role in ("fence", "stop", "board")] == [(0, 14), (12, 13), (0, 12)]
        assert f"the keeper {keeper or 'left'} of the blade" in drawing.told
    ((a, b),) = normal(CHECK.draw(one, ()), keeper or "left").arrows["measure"]
    assert (a[0], b[0]) == (0.0, 12.0)


def test_coverage() -> None:
    held = coverage(stop_scale, 1000, seed=22)
    assert 0.93 <= held["stop-offset"] <= 0.97 and 0.93 <= held["stop-slope"] <= 0.97


def test_one_setting_far_from_nothing_known_is_to_be_cut_twice() -> None:
    assert "second-part" in codes(run("stop-scale", "measured@12=12.031"))
    assert "second-part" not in codes(run("stop-scale", "measured@12=12.008"))
    assert "second-part" not in codes(run("stop-scale", "measured@6=6.031 measured@12=12.028"))
