"""Stop repeat: scatter is mended, a constant shift is adjusted, a creep or a first part is neither."""

import re
from itertools import pairwise

import pytest
from scipy import stats
from tests.checks.drawn import box, normal
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated import stop_repeat
from tests.worlds.stop import Stop

from trued.checks.stop_repeat import CHECK
from trued.procedure import Severity

SHIFTED = (12.003, 12.004, 12.003, 12.004, 12.003, 12.004)
LOOSE = (11.998, 12.005, 12.001, 12.004, 11.999, 12.003)
CREEPING = (12.000, 12.001, 12.002, 12.003, 12.004, 12.005)


def typed(*parts: float) -> list[str]:
    return ["set=12.000", *(f"part={part:.3f}" for part in parts)]


ANEW = (12.0355, 12.0325, 12.0345, 12.0330)  # each after the stop was unlocked and set anew
FAR = tuple(part + 0.030 for part in SHIFTED)


def anew(*parts: float) -> list[str]:
    return [f"relocked={part:.4f}" for part in parts]


def test_a_constant_shift_worked_by_hand() -> None:
    """Mean +0.0035, s 0.0005: proven to repeat; one setting may lie off by that alone, so the cursor is left."""
    finding = run("stop-repeat", typed(*SHIFTED))
    assert estimate(finding, "stop-offset").value == pytest.approx(0.0035 * 25.4, rel=1e-6)
    assert estimate(finding, "stop-repeat").value == pytest.approx(0.000548 * 25.4, rel=1e-3)
    assert estimate(finding, "stop-repeat").decision == "proven-in"
    assert estimate(finding, "stop-offset").decision == "not-proven" and not finding.moves


def test_one_setting_does_not_order_the_cursor_but_several_that_agree_do() -> None:
    """Procedure B19: a shift is constant when it comes back after the stop was locked anew."""
    assert not run("stop-repeat", typed(*FAR)).moves
    finding = run("stop-repeat", [*typed(*FAR), *anew(*ANEW)])
    (move,) = finding.moves
    assert move.feature == "stop-offset" and move.direction == "shorter" and move.where == "cursor"
    assert move.amount_mm == pytest.approx(0.0338 * 25.4, rel=0.01)
    assert "until it reads 12.033" in move.text and "Set" not in move.text.split(".")[0]


def test_three_lockings_far_apart_are_not_called_true() -> None:
    """practitioner: 0.0134, 0.0194 and 0.0170 over after three lockings: the sample sd is 0.0030, by a library."""
    at = (12.0134, 12.0194, 12.0170)
    finding = run("stop-repeat", [*typed(at[0], at[0] + 0.0002, at[0] - 0.0002), *anew(*at[1:])])
    seen = estimate(finding, "stop-setting")
    assert seen.decision == "not-proven" and 0.0015 < seen.value / 25.4 < 0.0045  # what one part scatters is taken off


def test_a_stop_that_does_not_come_back_is_mended_and_its_cursor_left() -> None:
    finding = run("stop-repeat", [*typed(*FAR), *anew(12.06, 12.00, 12.075, 11.99, 12.05, 12.0)])
    assert estimate(finding, "stop-setting").decision == "proven-out"
    assert [move.feature for move in finding.moves] == ["stop-setting"]
    assert "Leave the cursor alone" in finding.moves[0].text


def test_the_words_for_parts_that_come_out_short() -> None:
    """The same parts mirrored about 12."""
    (long,) = run("stop-repeat", [*typed(*FAR), *anew(*ANEW)]).moves
    assert "Parts are 0.033" in long.text and " in long at" in long.text and "not both" in long.text
    mirrored = [*typed(*(24.0 - part for part in FAR)), *anew(*(24.0 - part for part in ANEW))]
    (short,) = run("stop-repeat", mirrored).moves
    assert " in short at any length" in short.text and short.direction == "longer"
    assert "until it reads 11.966" in short.text


def test_a_scatter_worked_by_hand() -> None:
    """Mean +0.0017, s 0.0028, range 0.007: the cursor is left alone, the stop is mended."""
    finding = run("stop-repeat", typed(*LOOSE))
    assert estimate(finding, "stop-offset").value == pytest.approx(0.0017 * 25.4, rel=0.02)
    assert estimate(finding, "stop-repeat").value == pytest.approx(0.0028 * 25.4, rel=0.02)
    (move,) = finding.moves
    assert move.feature == "stop-repeat" and "Leave the cursor alone" in move.text and move.amount_mm is None
    assert (move.where, move.direction) == ("stop", "in")


def test_a_scatter_with_a_large_shift_still_leaves_the_cursor_alone() -> None:
    finding = run("stop-repeat", [*typed(*(part + 0.05 for part in LOOSE)), *anew(12.05, 12.052, 12.051, 12.05)])
    assert estimate(finding, "stop-offset").decision == "proven-out"
    assert [move.feature for move in finding.moves] == ["stop-repeat"]


@pytest.mark.parametrize("kind", ["rides", "scale-moves"])
@pytest.mark.parametrize("offset", [0.0374, -0.0374])
def test_the_move_applied_to_a_stop(kind: str, offset: float) -> None:
    stop = Stop(origin=offset)
    stop.set_to(12.0)
    parts = [*typed(*[stop.cut()] * 5), *anew(*[stop.cut()] * 6)]
    (move,) = run("stop-repeat", parts, cursor=kind).moves
    until = float(re.search(r"until it reads ([\d.]+)\.", move.text)[1])  # type: ignore[index]
    (stop.move_cursor_until if kind == "rides" else stop.move_scale_until)(until)
    assert abs(stop.offset) < 0.0005
    assert ("larger numbers" in move.text) is (offset > 0)


def test_the_limit_of_error_is_in_the_shift_and_not_in_the_scatter() -> None:
    repeat, offset = CHECK.evaluate(taken("stop-repeat", typed(*SHIFTED)))
    assert "caliper: limit of error" in {c.label for c in offset.value.components}
    assert "caliper: limit of error" not in {c.label for c in repeat.value.components}


def test_equal_readings_are_not_taken_for_no_scatter() -> None:
    """What always comes out the same hides what lies below the caliper's step."""
    repeat, _ = CHECK.evaluate(taken("stop-repeat", typed(*[12.003] * 6)))
    assert repeat.value.value == pytest.approx(0.01 / 12**0.5)


def test_few_parts_prove_little() -> None:
    few = estimate(run("stop-repeat", typed(12.003, 12.004)), "stop-repeat")
    assert few.decision == "not-proven"
    assert few.interval95[1] / few.value == pytest.approx(1 / stats.chi2.ppf(0.025, 1) ** 0.5, rel=1e-9)


# --- blunders


def test_good_parts_warn_of_nothing_that_counts() -> None:
    assert all(seen.act is Severity.NOTE for seen in run("stop-repeat", typed(*SHIFTED)).seen)
    assert "reading-rules" in codes(run("stop-repeat", typed(*SHIFTED)))
    assert "reading-rules" not in codes(run("stop-repeat", typed(*LOOSE)))


def test_where_the_parts_to_come_lie() -> None:
    """Howe, six parts, 95 % and 95 %: 1.960 √(5 · 7/6 / 1.1455) = 4.423 (e-Handbook 7.2.6.3), times s = 0.0028 in."""
    loose = next(s.text for s in run("stop-repeat", typed(*LOOSE)).seen if s.code == "parts-to-come")
    assert "within 0.0124 in of their mean" in loose and "6 parts" in loose
    assert "parts-to-come" not in codes(run("stop-repeat", typed(12.003, 12.004, 12.003, 12.004)))
    assert "parts-to-come" not in codes(run("stop-repeat", typed(*CREEPING)))


def test_a_creeping_stop() -> None:
    finding = run("stop-repeat", typed(*CREEPING))
    assert acts(finding)["drifting"] == "doubt" and not finding.moves
    assert "longer one after the other, by 0.0010 in a part, without exception" in finding.seen[0].text
    assert "shorter" in next(s.text for s in run("stop-repeat", typed(*CREEPING[::-1])).seen if s.code == "drifting")


def test_a_creep_toward_shorter_parts_is_without_exception_too() -> None:
    finding = run("stop-repeat", typed(*CREEPING[::-1]))
    assert "shorter one after the other, by 0.0010 in a part, without exception" in finding.seen[0].text


def test_a_creep_need_not_be_without_exception() -> None:
    rising = (12.000, 12.004, 12.0035, 12.008, 12.011, 12.0105, 12.015, 12.018)
    finding = run("stop-repeat", ["set=12.000", *(f"part={part:.4f}" for part in rising)])
    assert "drifting" in codes(finding) and not all(b > a for a, b in pairwise(rising))
    falling = run("stop-repeat", ["set=12.000", *(f"part={part:.4f}" for part in rising[::-1])])
    for one in (finding, falling):
        assert "without exception" not in next(s.text for s in one.seen if s.code == "drifting")


def test_rising_parts_that_scatter_as_much_are_no_creep() -> None:
    assert "drifting" not in codes(run("stop-repeat", typed(12.000, 12.003, 12.002, 12.003, 12.001, 12.004)))
    assert "drifting" not in codes(run("stop-repeat", typed(12.000, 12.001, 12.002)))  # three show no trend


def test_the_first_part_apart() -> None:
    finding = run("stop-repeat", typed(12.014, 12.003, 12.004, 12.003, 12.004, 12.003))
    assert acts(finding)["first-part"] == "doubt" and not finding.moves
    assert "first-part" not in codes(run("stop-repeat", typed(12.006, 12.003, 12.004, 12.003, 12.004, 12.003)))
    assert "first-part" not in codes(run("stop-repeat", typed(12.003, 12.014, 12.003, 12.004, 12.003, 12.004)))


@pytest.mark.parametrize(("first", "apart"), [("12.0080", True), ("12.0075", False), ("11.9988", True)])
def test_how_far_apart_a_first_part_must_lie(first: str, apart: bool) -> None:
    """Five others: mean 12.0034, s 0.000548, times sqrt(1 + 1/5) and t(99.9 %, 4) = 7.173: 0.0043 in."""
    finding = run("stop-repeat", ["set=12", f"part={first}", *typed(12.003, 12.004, 12.003, 12.004, 12.003)[1:]])
    assert ("first-part" in codes(finding)) == apart
    said = {"12.0080": "by 0.0046 in", "11.9988": "by 0.0046 in"}.get(first, "")
    assert said in " ".join(s.text for s in finding.seen if s.code == "first-part")


def test_three_others_are_enough_to_set_the_first_apart() -> None:
    """t(99.9 %, 2) = 22.33 times 0.000577 sqrt(4/3) is 0.0149 in."""
    assert "first-part" in codes(run("stop-repeat", typed(12.020, 12.003, 12.004, 12.003)))
    assert "first-part" not in codes(run("stop-repeat", typed(12.017, 12.003, 12.004, 12.003)))


def test_unit_slip() -> None:
    finding = run("stop-repeat", ["set=12", "part=12.003", "part=304.9"])
    assert acts(finding)["unit-slip"] == "refuse" and "12.0039" in finding.refused[0].text
    assert "304.88" in run("stop-repeat", ["set=305", "part=12.003", "part=305"], "mm").refused[0].text
    assert "unit-slip" not in codes(run("stop-repeat", ["set=12", "part=12.003", "part=290"]))


def test_burned_inch() -> None:
    assert acts(run("stop-repeat", typed(12.003, 13.004, 12.003)))["burned-inch"] == "doubt"
    assert "burned-inch" not in codes(run("stop-repeat", typed(12.003, 12.960, 12.003)))


def test_nought_is_refused() -> None:
    assert acts(run("stop-repeat", ["set=0", "part=1", "part=1"]))["no-size"] == "refuse"


def test_fraction_display() -> None:
    made = ["set=12", "part=12.008", "part=11.992", "part=12.016", "part=12.023"]
    assert acts(run("stop-repeat", made))["fraction-display"] == "doubt"
    assert "fraction-display" not in codes(run("stop-repeat", [*made[:-1], "part=12.020"]))


@pytest.mark.parametrize("keeper", ["", "right"])
def test_drawings(keeper: str) -> None:
    run_taken = taken("stop-repeat", typed(*SHIFTED), **({"keeper": keeper} if keeper else {}))
    before, after = CHECK.draw(run_taken, ()), CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    assert f"the keeper {keeper or 'left'} of the blade" in before.told and "0.0035 in long" in after.told
    assert sum(shape.role == "board" for shape in after.shapes) == 6
    even = taken("stop-repeat", typed(12.0, 12.0))
    assert CHECK.draw(even, CHECK.evaluate(even)).shapes


@pytest.mark.parametrize("keeper", ["left", "right"])
def test_stop_and_parts_lie_on_the_keeper_s_side(keeper: str) -> None:
    one = taken("stop-repeat", typed(*SHIFTED), keeper=keeper)
    before = normal(CHECK.draw(one, ()), keeper)
    assert box(before.paths["fence"][0])[:2] == (0.0, 14.0) and box(before.paths["stop"][0])[:2] == (12.0, 13.0)
    assert box(before.paths["board"][0])[:2] == (0.0, 12.0)
    ((a, b),), ((start, end),) = before.arrows["measure"], before.arrows["read"]
    assert (a[0], b[0]) == (0.0, 12.0) and start[0] == end[0] == 12.0 and start[1] > end[1] > 1.0
    assert before.labels["part"][0] == 6.0 and before.labels["set"][0] == 11.0


@pytest.mark.parametrize("keeper", ["left", "right"])
@pytest.mark.parametrize(("parts", "ends"), [((12.002, 12.004), (11.0, 12.0)), ((11.998, 11.996), (9.0, 8.0))])
def test_parts_are_drawn_longer_or_shorter_as_they_are(
    keeper: str, parts: tuple[float, float], ends: tuple[float, float]
) -> None:
    one = taken("stop-repeat", typed(*parts), keeper=keeper)
    drawing = CHECK.draw(one, CHECK.evaluate(one))
    after = normal(drawing, keeper)
    assert [box(p)[:2] for p in after.paths["board"]] == [(0.0, pytest.approx(end)) for end in ends]
    assert [box(p)[2] for p in after.paths["board"]] == [0.0, -2.0]  # one below the other, in their order
    assert after.lines["wanted"] == [((10.0, 2.4), (10.0, -3.0))] and after.labels["set"] == (10.0, 3.0)
    assert f"0.0030 in {'long' if ends[0] > 10.0 else 'short'}, with a standard" in drawing.told


def test_the_fence_stands_square() -> None:
    """Parts that were cut at a detent would teach the scale of the square cut, and nothing asks for the angle."""
    assert CHECK.steps[0].text.startswith("Set the fence square, at no other angle")


def test_coverage() -> None:
    held = coverage(stop_repeat, 1000, seed=23)
    assert 0.93 <= held["stop-repeat"] <= 0.97 and 0.93 <= held["stop-offset"] <= 0.97


def test_a_part_that_no_other_agrees_with_is_to_be_cut_again() -> None:
    """15 thousandths from its mates, which lie within 1: no creep, no first part, too near for a slip."""
    odd = run("stop-repeat", typed(12.003, 12.004, 12.018, 12.003, 12.004))
    assert acts(odd)["second-part"] == "note"
    (text,) = [seen.text for seen in odd.seen if seen.code == "second-part"]
    assert text.startswith("part=12.018: cut a second part")
    assert "second-part" not in codes(run("stop-repeat", typed(*LOOSE)))
