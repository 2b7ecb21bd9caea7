"""Wing: step, droop, twist and sag from planes that are really probed; lower or higher never mixed up."""

import pytest
from tests.checks.drawn import arrows, labels
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_table import wing
from tests.worlds.straightedge import hollow
from tests.worlds.wing import PLACES, Wing, gaps, reach

from trued.checks.wing import CHECK, SET_LOW
from trued.procedure import RunInput

INCH = 25.4
STRAIGHT = hollow(0.0, 610.0)
GOOD = "joint_low@middle=0.008 outer_low@middle=0.010 edge_limit=0.001 loaded_low@middle=0.020"


def readings_of(one: Wing) -> list[str]:
    typed = ["edge_limit=0.001"]
    for place in PLACES:
        for name, true in zip(("joint", "outer"), gaps(one, STRAIGHT, place), strict=True):
            typed.append(f"{name}_{'low' if true >= 0 else 'high'}@{place}={abs(true):.6f}mm")
    return typed


# --- the sums, on planes that are really probed


@pytest.mark.parametrize("step", [0.9, -0.5])
@pytest.mark.parametrize("lean", [0.004, -0.003])
def test_step_droop_and_twist(step: float, lean: float) -> None:
    one = Wing((step, step), (lean, 1.5 * lean))
    finding = run("wing", readings_of(one))
    steps = [one.below(one.joint, share * one.along) for share in PLACES.values()]
    droops = [one.below(one.outer, s * one.along) - one.below(one.joint, s * one.along) for s in PLACES.values()]
    worst = max(steps, key=lambda x: abs(x - SET_LOW))
    assert estimate(finding, "wing-step").value == pytest.approx(worst, abs=1e-5)
    assert estimate(finding, "wing-droop").value == pytest.approx(max(droops, key=abs), abs=1e-5)
    assert estimate(finding, "wing-twist").value == pytest.approx(droops[2] - droops[0], abs=1e-5)


def test_worked_by_hand() -> None:
    """Step 0.020, droop 0.056 - 0.016, twist 0.040 - 0.010, sag 0.060 - 0.043."""
    finding = run("wing", " ".join(CHECK.example.given))
    values = {e.feature: e.value / INCH for e in finding.estimates}
    assert values == pytest.approx(
        {"wing-step": 0.020, "wing-droop": 0.040, "wing-twist": 0.030, "wing-deflection": 0.017}
    )


def test_one_place_gives_step_and_droop() -> None:
    finding = run("wing", "joint_low@middle=0.008 outer_low@middle=0.010 edge_limit=0.001")
    assert [e.feature for e in finding.estimates] == ["wing-step", "wing-droop"]


def test_the_straightedge_s_bow_counts_twice_at_its_free_end() -> None:
    """Hollow by 0.1, half of it on the table: its free end stands 0.2 off the table's plane."""
    assert abs(reach(hollow(0.1, 610.0))(305.0)) == pytest.approx(0.2, rel=1e-6)
    labels_of = {c.label: c.u for c in estimate(run("wing", GOOD), "wing-droop").components}
    assert labels_of["straightedge: limit of error"] == pytest.approx(2 * 0.001 * INCH / 3**0.5)
    assert "straightedge: limit of error" not in {
        c.label for e in run("wing", GOOD).estimates if e.feature != "wing-droop" for c in e.components
    }


def test_never_proud() -> None:
    finding = run("wing", GOOD.replace("joint_low", "joint_high"))
    found = estimate(finding, "wing-step")
    assert found.value == pytest.approx(-0.008 * INCH) and found.decision == "proven-out"
    (move,) = [m for m in finding.moves if m.feature == "wing-step"]
    assert (
        move.direction == "down"
        and "Lower the wing at its joint by 0.0158 in" in move.text
        and "Never above" in move.text
    )
    assert move.amount_mm == pytest.approx((0.008 + 1 / 128) * INCH)


def test_a_low_joint_is_raised_to_a_hair_below() -> None:
    finding = run("wing", "joint_low@middle=0.030 outer_low@middle=0.032 edge_limit=0.001")
    (move,) = finding.moves
    assert move.direction == "up" and move.amount_mm == pytest.approx((0.030 - 1 / 128) * INCH)


@pytest.mark.parametrize(("droop", "side"), [("low", "bottom"), ("high", "top")])
def test_droop_as_a_shim_at_the_joint(droop: str, side: str) -> None:
    """0.060 over 12 in, a flange of 2 in: a shim of 0.010 at the joint."""
    typed = f"joint_low@middle=0 outer_{droop}@middle=0.060 edge_limit=0.001"
    (move,) = [m for m in run("wing", typed, size_out="12", flange_height="2").moves if m.feature == "wing-droop"]
    assert f"a shim at the {side} of the joint of 0.0100 in" in move.text
    (move,) = [m for m in run("wing", typed).moves if m.feature == "wing-droop"]
    assert f"a shim at the {side} of the joint. Its thickness is" in move.text


def test_twist_and_sag_moves() -> None:
    typed = "joint_low@operator=0 outer_low@operator=0.060 joint_low@far=0 outer_low@far=0 edge_limit=0.001"
    more = " joint_low@middle=0 outer_low@middle=0.030 loaded_low@middle=0.090"
    moves = {m.feature: m for m in run("wing", typed + more).moves}
    assert "lower at the near end" in moves["wing-twist"].text
    assert moves["wing-twist"].amount_mm == pytest.approx(0.030 * INCH)
    assert moves["wing-deflection"].amount_mm is None and "sags 0.0600 in" in moves["wing-deflection"].text
    other = run("wing", typed.replace("@operator", "@x").replace("@far", "@operator").replace("@x", "@far"))
    assert "lower at the far end" in next(m.text for m in other.moves if m.feature == "wing-twist")


@pytest.mark.parametrize("step", [1.8, -1.4])
@pytest.mark.parametrize("lean", [0.012, -0.012])
@pytest.mark.parametrize("response", [0.7, 1.3])
def test_two_rounds_level_it(step: float, lean: float, response: float) -> None:
    one = Wing((step, step), (lean, lean))
    for _ in range(2):
        for move in run("wing", readings_of(one)).moves:
            assert move.amount_mm is not None
            by = response * move.amount_mm * (1 if move.direction == "up" else -1)
            if move.feature == "wing-step":
                one.raise_joint(by)
            elif move.feature == "wing-droop":
                one.raise_outer(by)
    settling = 0.002 * INCH
    assert -settling <= one.below(one.joint, 200.0) <= INCH / 64 + settling
    assert abs(one.lean[0] * one.width) <= INCH / 32


# --- blunders: each made, and one that comes close


def test_a_good_run_warns_of_nothing() -> None:
    assert codes(run("wing", f"{GOOD} card=on-table")) <= {"one-run"}


def test_joint_and_outer_edge_belong_together() -> None:
    finding = run("wing", "joint_low@far=0.01 outer_low@middle=0.02")
    assert acts(finding)["unpaired"] == "refuse" and "joint@far, outer@middle" not in finding.refused[0].text
    assert "outer@middle, joint@far" in finding.refused[0].text
    assert "lower or higher, at one place or more" in run("wing", "edge_limit=0.001").refused[0].text


def test_lower_and_higher_at_once() -> None:
    finding = run("wing", f"{GOOD} outer_high@middle=0.004")
    assert acts(finding)["low-and-high"] == "refuse"
    assert "low-and-high" not in codes(run("wing", f"{GOOD} outer_high@middle=0"))


@pytest.mark.parametrize(("card", "typed"), [("on-table", "high"), ("on-wing", "low")])
def test_the_card_says_otherwise(card: str, typed: str) -> None:
    finding = run("wing", f"{GOOD} card={card}".replace("joint_low", f"joint_{typed}"))
    assert acts(finding)["card-says-otherwise"] == "refuse" and not finding.estimates
    right = "low" if typed == "high" else "high"
    assert "card-says-otherwise" not in codes(run("wing", f"{GOOD} card={card}".replace("joint_low", f"joint_{right}")))
    assert "card-says-otherwise" not in codes(run("wing", f"{GOOD} card=none"))


def test_the_load_needs_its_like() -> None:
    finding = run("wing", "joint_low@far=0 outer_low@far=0.01 loaded_low@middle=0.02")
    assert acts(finding)["load-not-at-middle"] == "refuse"


def test_a_load_that_lifts() -> None:
    finding = run("wing", GOOD.replace("loaded_low@middle=0.020", "loaded_high@middle=0.005"))
    assert acts(finding)["rises"] == "doubt" and not finding.moves
    assert "rises" not in codes(run("wing", GOOD.replace("loaded_low@middle=0.020", "loaded_low@middle=0.002")))


def test_more_than_bolts_trim() -> None:
    assert acts(run("wing", GOOD.replace("0.020", "0.380")))["too-much"] == "doubt"
    assert "too-much" not in codes(run("wing", GOOD.replace("0.020", "0.370")))


def test_what_was_left_out_is_said() -> None:
    finding = run("wing", "joint_low@middle=0.008 outer_low@middle=0.010")
    assert acts(finding)["straightedge-not-proven"] == "note" and acts(finding)["load-not-read"] == "note"


# --- drawings


@pytest.mark.parametrize("keeper", ["left", "right"])
@pytest.mark.parametrize("side", ["keeper", "offcut"])
def test_drawings(keeper: str, side: str) -> None:
    one = taken("wing", GOOD.replace("joint_low", "joint_high"), keeper=keeper, side=side)
    before, after = CHECK.draw(one, ()), CHECK.draw(one, CHECK.evaluate(one))
    at = {label.text: label.at[0] for label in labels(before)}
    assert (at["wing"] > 0) == ((keeper == "right") == (side == "keeper"))
    step, outer = arrows(after)
    assert step.end[1] < step.start[1] and outer.end[1] > outer.start[1]  # the joint goes down, the outer edge up
    assert "The joint goes down" in after.told and "the outer edge up" in after.told
    assert "press" in CHECK.draw(RunInput(CHECK, ()), ()).told
    level = taken("wing", "joint_low@middle=0 outer_low@middle=0")
    assert CHECK.draw(level, CHECK.evaluate(level)).shapes


@pytest.mark.parametrize("side", ["operator", "far"])
def test_drawing_of_a_wing_before_or_behind_the_table(side: str) -> None:
    told = CHECK.draw(taken("wing", GOOD, side=side), ()).told
    assert ("at the far side" in told) == (side == "far") and "seen along its joint" in told


# --- coverage


def test_coverage() -> None:
    held = coverage(wing, 300, seed=26)
    assert set(held) == {"wing-step", "wing-droop", "wing-twist", "wing-deflection"}
    assert all(0.91 <= share <= 0.985 for share in held.values())
