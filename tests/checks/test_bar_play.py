"""Bar play: play and swing against a bar that really turns in its slot."""

import pytest
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated import bar_play
from tests.worlds.slot import Slot

from trued.checks.bar_play import CHECK

GOOD = "play@start=0.006 engaged@start=10.7 play@middle=0.006 engaged@middle=20 play@end=0.005 engaged@end=14"


def test_worked_by_hand() -> None:
    """0.006 in of play: 0.0036 in per foot with 20 in engaged, 0.0067 with 10.7 where the travel starts."""
    swing = estimate(run("bar-play", GOOD), "bar-swing")
    assert 12 * swing.value == pytest.approx(0.0067, abs=5e-5) and swing.unit == "rad"
    whole = "play@middle=0.006 engaged@middle=20 play@end=0.001 engaged@end=20"
    assert 12 * estimate(run("bar-play", whole), "bar-swing").value == pytest.approx(0.0036, abs=5e-5)


@pytest.mark.parametrize("engaged", [10.7, 14.0, 20.0])
def test_the_swing_is_what_a_bar_in_a_slot_really_turns(engaged: float) -> None:
    slot = Slot({0.0: 0.756}, 0.750)
    typed = f"play@start={slot.play(0.0):.6f} engaged@start={engaged} play@end=0.0001 engaged@end=20"
    found = estimate(run("bar-play", typed), "bar-swing")
    assert found.value == pytest.approx(slot.swing(0.0, engaged), rel=0.01)


def test_the_bar_widened_as_told_still_slides_and_swings_less() -> None:
    slot = Slot({0.0: 0.758, 10.0: 0.755, 20.0: 0.756}, 0.750)
    typed = [f"play@{p}={slot.play(at):.4f}" for p, at in (("start", 0.0), ("middle", 10.0), ("end", 20.0))]
    typed += ["engaged@start=10.7", "engaged@middle=20", "engaged@end=14"]
    move = run("bar-play", typed).moves[0]
    assert move.where == "bar" and move.direction == "out" and move.amount_mm is not None
    slot.bar += move.amount_mm / 25.4
    assert min(slot.play(at) for at in slot.widths) == pytest.approx(0.002, abs=1e-6)
    assert slot.play(0.0) == pytest.approx(0.005, abs=1e-6)


def test_a_worn_slot_is_not_mended_by_a_wider_bar() -> None:
    move = run("bar-play", "play@start=0.012 engaged@start=10.7 play@middle=0.001 engaged@middle=20").moves[0]
    assert move.amount_mm is None and "would bind" in move.text and "always the same" in move.text


def test_little_play_needs_no_move_but_two_runs() -> None:
    finding = run("bar-play", "play@start=0.001 engaged@start=10.7 play@end=0.001 engaged@end=14")
    assert not finding.moves and "one-run" in codes(finding)


def test_the_narrowest_slot_is_said() -> None:
    finding = run("bar-play", f"{GOOD} slot@2=0.7510 slot@10=0.7495 slot@18=0.7500")
    assert estimate(finding, "slot-width").value == pytest.approx(0.7495 * 25.4)
    assert estimate(finding, "slot-width").decision is None
    assert "slot-width" not in {e.feature for e in run("bar-play", GOOD).estimates}


def test_two_places_are_enough() -> None:
    finding = run("bar-play", "play@start=0.006 engaged@start=10.7 play@end=0.004 engaged@end=12")
    assert estimate(finding, "bar-play").value == pytest.approx(0.006 * 25.4)


# --- blunders


def test_good_readings_warn_of_nothing() -> None:
    assert not codes(run("bar-play", GOOD, bar="20"))


def test_a_place_without_its_mate_is_refused() -> None:
    typed = "play@start=0.006 engaged@start=10.7 play@end=0.004 engaged@middle=12"
    finding = run("bar-play", typed)
    assert acts(finding) == {"unpaired": "refuse"}
    assert "play@end" in finding.refused[0].text and "engaged@middle" in finding.refused[0].text


def test_no_bar_in_the_slot_is_refused() -> None:
    assert acts(run("bar-play", GOOD.replace("=14", "=0")))["nothing-engaged"] == "refuse"


def test_unit_slip() -> None:
    assert acts(run("bar-play", GOOD.replace("=0.005", "=0.152")))["unit-slip"] == "refuse"
    assert acts(run("bar-play", GOOD.replace("engaged@end=14", "engaged@end=272")))["unit-slip"] == "refuse"
    assert "unit-slip" in codes(run("bar-play", f"{GOOD} slot@2=0.751 slot@9=19.07"))
    honest = "play@start=0.0254 engaged@start=10.7 play@end=0.001 engaged@end=20"
    assert "unit-slip" not in codes(run("bar-play", honest))


def test_more_engaged_than_there_is_bar() -> None:
    assert acts(run("bar-play", GOOD, bar="19"))["beyond-bar"] == "doubt"
    assert "beyond-bar" not in codes(run("bar-play", GOOD, bar="19.8"))


def test_a_bar_without_play_may_bind() -> None:
    assert acts(run("bar-play", GOOD.replace("=0.005", "=0")))["binds"] == "note"
    assert "binds" not in codes(run("bar-play", GOOD.replace("=0.005", "=0.0005")))


def test_an_uneven_slot() -> None:
    finding = run("bar-play", f"{GOOD} slot@2=0.7560 slot@10=0.7495")
    assert acts(finding)["uneven-slot"] == "note" and "10.00 in along" in finding.seen[0].text
    assert "uneven-slot" not in codes(run("bar-play", f"{GOOD} slot@2=0.7530 slot@10=0.7495"))


def test_a_play_in_the_other_unit_everywhere_is_doubted() -> None:
    finding = run("bar-play", "play@start=0.15 engaged@start=10.7 play@end=0.13 engaged@end=14")
    assert acts(finding)["unexpected-size"] == "doubt" and not finding.moves


@pytest.mark.parametrize("keeper", ["", "left", "right"])
def test_drawings(keeper: str) -> None:
    run_taken = taken("bar-play", GOOD, **({"keeper": keeper} if keeper else {}))
    before, after = CHECK.draw(run_taken, ()), CHECK.draw(run_taken, CHECK.evaluate(run_taken))
    assert f"keeper {keeper or 'left'}" in before.told and "0.0060 in" in after.told
    bar = next(shape for shape in after.shapes if shape.role == "bar")
    assert (bar.points[0][0] > 0) == (keeper == "right")


def test_coverage() -> None:
    held = coverage(bar_play, 600, seed=25)
    assert 0.93 <= held["bar-play"] <= 0.97 and 0.93 <= held["bar-swing"] <= 0.97
