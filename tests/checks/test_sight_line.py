"""Sight line against a plate on its flange and an eye above the line; blunders made and nearly made."""

import pytest
from tests.checks.drawn import arrows
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_work import sight_line
from tests.worlds.sight import Blade, Sight

from trued.checks.sight_line import CHECK, new_blade_shift_mm

KEEPERS = ["left", "right"]
GOOD = "to_mark=4 to_cut=4.012 to_mark=5 to_cut=5.016 to_mark=6 to_cut=6.014"


def readings_of(sight: Sight) -> str:
    return " ".join(f"to_mark={m} to_cut={sight.cut(m):.7f}" for m in (4.0, 5.0, 6.0))


def test_worked_by_hand() -> None:
    """Mean of 0.012, 0.016 and 0.014."""
    finding = run("sight-line", GOOD)
    assert estimate(finding, "sight-line").value == pytest.approx(0.014 * 25.4)
    assert not codes(finding)


@pytest.mark.parametrize("keeper", KEEPERS)
@pytest.mark.parametrize("off", [0.03, -0.03])
@pytest.mark.parametrize("response", [0.7, 1.0, 1.3])
def test_the_line_moved_as_told_is_where_the_cut_comes(keeper: str, off: float, response: float) -> None:
    sight = Sight(Blade(0.1, 0.07), keeper, 0.0)
    sight.set_line()
    right = sight.line
    sight.line += off
    for _ in range(2):
        finding = run("sight-line", readings_of(sight), keeper=keeper)
        (move,) = CHECK.moves(taken("sight-line", readings_of(sight), keeper=keeper), finding.founds)
        assert move.amount_mm is not None and move.direction in ("toward-offcut", "toward-keeper")
        compass = "left" if "to the left" in move.text else "right"
        assert (compass == keeper) == (move.direction == "toward-keeper")
        sight.line += response * move.amount_mm / 25.4 * (-1 if compass == "left" else 1)
    assert abs(sight.line - right) < 0.003


def test_without_the_keeper_there_are_no_compass_words() -> None:
    (move,) = run("sight-line", GOOD.replace(".01", ".06")).moves
    assert "offcut side" in move.text and "stand at the saw" not in move.text


@pytest.mark.parametrize("keeper", KEEPERS)
@pytest.mark.parametrize("flange", KEEPERS)
def test_a_new_blade_moves_the_edge_as_a_plate_on_a_flange_does(keeper: str, flange: str) -> None:
    """Worked by hand: 0.125/0.087 to 0.094/0.067 is 0.0055 on the flange's side, 0.0255 on the nut's; never 0.031."""
    sight = Sight(Blade(0.125, 0.087, flange), keeper, 0.0)
    sight.set_line()
    sight.blade = Blade(0.094, 0.067, flange)
    longer = sight.cut(5.0) - 5.0
    assert longer == pytest.approx(0.0055 if flange == keeper else 0.0255, abs=1e-9)
    mm = (0.125 * 25.4, 0.087 * 25.4, 0.094 * 25.4, 0.067 * 25.4)
    assert new_blade_shift_mm(*mm, flange_side=flange == keeper) == pytest.approx(longer * 25.4)
    facts = {"old_kerf": "0.125", "old_plate": "0.087", "marked": "0.094", "plate": "0.067"}
    finding = run("sight-line", readings_of(sight), "in", keeper=keeper, flange=flange, **facts)
    assert "that is what was found" in next(s.text for s in finding.seen if s.code == "blade-change")
    sight.line += 0.03 if keeper == "left" else -0.03
    other = run("sight-line", readings_of(sight), "in", keeper=keeper, flange=flange, **facts)
    assert "0.0300 in shorter comes from something else" in next(s.text for s in other.seen if s.code == "blade-change")
    back = run(
        "sight-line", GOOD, "in", keeper=keeper, flange=flange, **(facts | {"marked": "0.130", "plate": "0.087"})
    )
    assert "shorter" in next(s.text for s in back.seen if s.code == "blade-change")


def test_without_all_its_facts_a_change_of_blade_is_not_spoken_of() -> None:
    assert "blade-change" not in codes(run("sight-line", GOOD, old_kerf="0.125", marked="0.094"))


def test_a_line_above_the_work_is_less_sure() -> None:
    """Half an inch above, an eye 50 mm in 450 aside shifts by 0.056 in: evenly spread, 0.032 in."""
    plain, high = (estimate(run("sight-line", GOOD, "in", **f), "sight-line") for f in ({}, {"above": "1/2"}))
    assert high.u == pytest.approx((plain.u**2 + (0.5 * 25.4 / 9 / 3**0.5) ** 2) ** 0.5)
    seen = Sight(Blade(0.1, 0.07), "left", 0.0, above=0.5, eye=(2.0, 18.0))
    assert abs(seen.brought()) == pytest.approx(0.5 / 9, rel=0.05)


def test_an_open_facing_is_renewed() -> None:
    finding = run("sight-line", f"{GOOD} facing_kerf=0.150 facing_kerf=0.150", marked="0.094")
    assert estimate(finding, "zero-clearance").value == pytest.approx(0.056 * 25.4)
    assert "Renew the facing" in finding.moves[-1].text
    assert [e.feature for e in run("sight-line", f"{GOOD} facing_kerf=0.150").estimates] == ["sight-line"]


# --- blunders


def test_unit_slip() -> None:
    finding = run("sight-line", GOOD.replace("to_cut=5.016", "to_cut=127.4"))
    assert acts(finding)["unit-slip"] == "refuse" and "5.0000" in finding.refused[0].text
    assert "unit-slip" in codes(run("sight-line", GOOD.replace("to_mark=5", "to_mark=127")))
    metric = "to_mark=101.6 to_cut=4.01"
    assert "unit-slip" in codes(run("sight-line", metric, unit="mm"))
    assert "unit-slip" not in codes(run("sight-line", GOOD.replace("to_cut=5.016", "to_cut=120")))


def test_nothing_measured_is_refused() -> None:
    assert acts(run("sight-line", GOOD.replace("to_mark=5", "to_mark=0")))["no-size"] == "refuse"


def test_burned_inch() -> None:
    finding = run("sight-line", GOOD.replace("to_cut=5.016", "to_cut=6.010"))
    assert acts(finding)["burned-inch"] == "doubt" and not finding.moves
    assert "burned-inch" not in codes(run("sight-line", GOOD.replace("to_cut=5.016", "to_cut=5.900")))


def test_the_wrong_side_of_the_kerf() -> None:
    made = "to_mark=4 to_cut=3.905 to_mark=5 to_cut=4.907"
    assert acts(run("sight-line", made))["wrong-side"] == "doubt"
    assert "wrong-side" in codes(run("sight-line", made, marked="0.094"))
    assert "wrong-side" not in codes(run("sight-line", made, marked="0.125"))
    assert "wrong-side" not in codes(run("sight-line", "to_mark=4 to_cut=3.95 to_mark=5 to_cut=4.95"))
    assert "wrong-side" not in codes(run("sight-line", "to_mark=4 to_cut=4.095 to_mark=5 to_cut=5.095"))


def test_the_width_of_a_pencil() -> None:
    pencil = "mark_with=pencil to_mark=4 to_cut=4.010 to_mark=5 to_cut=5.010"
    assert acts(run("sight-line", pencil))["pencil-width"] == "note"
    assert "taking" in next(s.text for s in run("sight-line", pencil.replace("4.010", "3.985")).seen + run(
        "sight-line", "mark_with=pencil to_mark=4 to_cut=3.990").seen if s.code == "pencil-width")  # fmt: skip
    assert "pencil-width" not in codes(run("sight-line", pencil.replace("pencil", "knife")))
    assert "pencil-width" not in codes(run("sight-line", "mark_with=pencil to_mark=4 to_cut=4.016"))


def test_a_facing_narrower_than_the_blade() -> None:
    assert acts(run("sight-line", f"{GOOD} facing_kerf=0.080", marked="0.094"))["narrow-facing"] == "doubt"
    assert "narrow-facing" not in codes(run("sight-line", f"{GOOD} facing_kerf=0.090", marked="0.094"))


@pytest.mark.parametrize("keeper", ["", *KEEPERS])
@pytest.mark.parametrize("long", [True, False])
def test_drawings(keeper: str, long: bool) -> None:
    given = GOOD if long else "to_mark=4 to_cut=3.97"
    run_taken = taken("sight-line", given, "in", **({"keeper": keeper} if keeper else {}))
    after = CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    (arrow,) = arrows(after)
    toward_left = arrow.end[0] < arrow.start[0]
    assert toward_left == ((keeper == "right") == long)
    assert ("toward the offcut side" in after.told) == long
    assert "keeper's own end" in CHECK.draw(run_taken, ()).told


def test_coverage() -> None:
    held = coverage(sight_line, 500, seed=42)
    assert 0.925 <= held["sight-line"] <= 0.975 and 0.925 <= held["zero-clearance"] <= 0.975
