"""Support, tried cold: many small weights on two springs; what hand and scale say must not contradict each other."""

import pytest
from tests.checks.drawn import arrows, normal
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_work import support
from tests.worlds.tipping import Load

from trued.checks.support import CHECK, SCALES
from trued.measure.decision import ToleranceLimits
from trued.procedure import take

STOOD = {f"{name}@{end}": "no" for name in ("tipped", "gave", "foot_lifted") for end in ("start", "end")}
MAPLE = {
    "start": Load([(9.0, -1.0, 19.0), (5.04, -8.0, 40.0)], 20.0),
    "end": Load([(9.0, -1.0, 19.0), (4.2, 0.0, 40.0)], 20.0),
}


def typed(loads: dict[str, Load], span: float = 16.0, **changed: str) -> list[str]:
    given = dict(STOOD)
    for end, load in loads.items():
        given |= {f"weight@{end}": f"{load.weight:.5f}lb", f"span@{end}": f"{span}"}
        given[f"held@{end}"] = f"{max(0.0, load.on_springs(span)):.5f}lb"
    return [
        f"{name}={value}" for name, value in (given | {k.replace("__", "@"): v for k, v in changed.items()}).items()
    ]


def test_worked_by_hand() -> None:
    """A 9 lb sled at 9 in and a maple board: 11.51 in before, 12.50 after; the base ends at 20: 8.49 and 7.50 left."""
    assert MAPLE["start"].balance() == pytest.approx(11.51, abs=0.005)
    assert MAPLE["end"].balance() == pytest.approx(12.50, abs=0.001)
    found = estimate(run("support", typed(MAPLE), scale="kitchen"), "support-margin")
    assert found.value == pytest.approx(7.5 * 25.4, rel=1e-3) and found.safety and found.decision == "proven-in"
    assert estimate(run("support", CHECK.example.given), "support-margin").value == pytest.approx(7.5 * 25.4)


def test_a_board_that_overhangs_a_small_table_is_proven_out() -> None:
    """The same board on a table that ends at 11 in: 0.51 in beyond it, it tips at once."""
    loads = {end: Load(load.bodies, 11.0) for end, load in MAPLE.items()}
    assert loads["start"].tips() and loads["end"].tips()
    finding = run(
        "support", typed(loads, 12.0, tipped__start="yes", tipped__end="yes", side__end="keeper"), scale="kitchen"
    )
    assert estimate(finding, "support-margin").decision == "proven-out" and acts(finding)["tips"] == "danger"
    (move,) = finding.moves
    assert move.text.startswith("Don't cut it like this") and move.direction == "out"


@pytest.mark.parametrize("edge", [12.8, 13.4, 14.2])
@pytest.mark.parametrize("response", [0.7, 1.0, 1.3])
def test_the_support_as_told_gives_the_reserve(edge: float, response: float) -> None:
    load = Load(MAPLE["end"].bodies, edge)
    for _ in range(2):
        given = typed({"end": load}, 14.0, side__end="keeper")
        (move,) = CHECK.moves(taken("support", given, "in", scale="kitchen"), run("support", given).founds)
        assert "on the keeper side" in move.text and move.amount_mm is not None
        load.edge += response * move.amount_mm / 25.4
        if load.edge - load.balance() >= 2.0:
            break
    assert load.edge - load.balance() >= 2.0 and not load.tips(press=15.0, at=load.edge + 1.0)


@pytest.mark.parametrize("side", ["keeper", "offcut", "operator", "far"])
def test_the_support_goes_to_the_side_to_which_it_would_tip(side: str) -> None:
    given = typed({"end": Load(MAPLE["end"].bodies, 13.0)}, 14.0, side__end=side)
    (move,) = run("support", given, scale="kitchen").moves
    assert f"at its end, the offcut gone it needs a support on the {side} side" in move.text


def test_the_end_of_the_travel_with_less_margin_is_the_one_to_mend() -> None:
    """The balance lies at 11.51 in before and at 12.50 after: an edge of 12 and one of 14 leave more at the end."""
    loads = {"start": Load(MAPLE["start"].bodies, 12.0), "end": Load(MAPLE["end"].bodies, 14.0)}
    given = typed(loads, 14.0, side__start="keeper", side__end="offcut")
    (move,) = run("support", given, scale="kitchen").moves
    assert "at the start of the travel it needs a support on the keeper side" in move.text


def test_without_a_side_the_words_still_hold() -> None:
    given = typed({"end": Load(MAPLE["end"].bodies, 13.0)}, 14.0)
    assert "to which it would tip" in run("support", given, scale="kitchen").moves[0].text
    wide = take(CHECK, given, limits={"support-margin": ToleranceLimits(None, 900.0)})
    assert CHECK.moves(wide, CHECK.evaluate(wide))[0].amount_mm == pytest.approx(2.0 * 25.4, rel=0.01)


def test_not_proven_is_not_ready() -> None:
    """A bathroom scale cannot tell 2.3 in from 2: the decision is not proven, and it is a safety item."""
    given = typed({end: Load(load.bodies, 14.8) for end, load in MAPLE.items()}, 14.0)
    found = estimate(run("support", given), "support-margin")
    assert found.decision == "not-proven" and found.safety
    assert estimate(run("support", given, scale="kitchen"), "support-margin").decision == "proven-in"


def test_the_scale_s_limit_is_one_error_for_both_weighings() -> None:
    found = estimate(run("support", typed(MAPLE), scale="luggage"), "support-margin")
    limit = next(c.u for c in found.components if c.label == "scale: limit of error")
    weight, held, span = MAPLE["end"].weight * 0.45359237, MAPLE["end"].on_springs(16.0) * 0.45359237, 16 * 25.4
    assert limit == pytest.approx(0.05 / 3**0.5 * span * (1 / weight - held / weight**2), rel=1e-3)


def test_scales_are_those_of_the_trade() -> None:
    """Common practice: a kitchen scale shows 1 g and is right to 5, one for luggage 10 and 50, a bath one 100 and
    500; each repeats to one step, known like from ten weighings."""
    steps = {"kitchen": (0.001, 0.005), "luggage": (0.01, 0.05), "bathroom": (0.1, 0.5)}
    assert {name: (scale.step, scale.limit) for name, scale in SCALES.items()} == steps
    one = taken("support", typed(MAPLE), scale="kitchen")
    found = CHECK.evaluate(one)[0].value
    assert {s.dof for s in found.parts if s.label == "scale: repeat of a weighing"} == {10}


def test_it_never_says_that_all_is_well() -> None:
    drawn = CHECK.draw(taken("support", typed(MAPLE)), CHECK.evaluate(taken("support", typed(MAPLE)))).told
    assert "not looked at between the two ends" in drawn
    assert "UNPLUGGED" in CHECK.cautions[0] and "manual" in " ".join(CHECK.cautions)


# --- blunders


def test_a_clean_trial_warns_of_nothing() -> None:
    assert not codes(run("support", typed(MAPLE), scale="kitchen"))


def test_by_hand_only() -> None:
    finding = run("support", [f"{name}={word}" for name, word in STOOD.items()])
    assert acts(finding) == {"by-hand-only": "note"} and not finding.estimates
    assert "Only one end was weighed (end)" in run("support", typed({"end": MAPLE["end"]})).seen[0].text


def test_it_tips_although_the_scale_says_otherwise() -> None:
    finding = run("support", typed(MAPLE, tipped__end="yes"), scale="kitchen")
    assert acts(finding)["tips"] == "danger" and estimate(finding, "support-margin").decision == "proven-out"
    assert estimate(finding, "support-margin").side is None and not finding.moves  # no number says it, the trial does
    only = run("support", [f"{n}={w}" for n, w in (STOOD | {"tipped@start": "yes"}).items()])
    assert acts(only)["tips"] == "danger" and "at the start of the travel" in only.seen[0].text


def test_it_gives_way_although_the_scale_says_otherwise() -> None:
    finding = run("support", typed(MAPLE, gave__start="yes"), scale="kitchen")
    assert acts(finding)["gives"] == "danger" and not finding.moves
    near = {end: Load(load.bodies, 14.0) for end, load in MAPLE.items()}
    assert "gives" not in codes(run("support", typed(near, 14.0, gave__end="yes"), scale="kitchen"))
    both = run("support", typed(MAPLE, gave__start="yes", tipped__start="yes"), scale="kitchen")
    assert "gives" not in codes(both)  # said once


def test_a_scale_that_agrees_at_one_end_only_does_not_agree() -> None:
    """Weighed: out by half an inch at the start, 7.5 in to spare at the end; and it tipped or gave way at both."""
    out = {"start": Load(MAPLE["start"].bodies, 11.0), "end": MAPLE["end"]}
    both = run("support", typed(out, 12.0, tipped__start="yes", tipped__end="yes"), scale="kitchen")
    assert acts(both)["tips"] == "danger"
    assert acts(run("support", typed(out, 12.0, tipped__start="yes"), scale="kitchen"))["tips"] == "danger"
    small = {"start": Load(MAPLE["start"].bodies, 13.0), "end": MAPLE["end"]}
    assert "gives" in codes(run("support", typed(small, 12.0, gave__start="yes", gave__end="yes"), scale="kitchen"))
    assert "gives" not in codes(run("support", typed(small, 12.0, gave__start="yes"), scale="kitchen"))


def test_a_foot_that_lifts() -> None:
    finding = run("support", typed(MAPLE, foot_lifted__end="yes"), scale="kitchen")
    assert acts(finding)["foot-lifted"] == "danger"
    assert estimate(finding, "support-margin").decision == "proven-out"


def test_more_than_all_is_refused() -> None:
    assert acts(run("support", typed(MAPLE, held__end="14lb")))["more-than-all"] == "refuse"
    assert "more-than-all" not in codes(run("support", typed(MAPLE, held__end="13.1lb")))


def test_of_several_weighings_the_most_held_and_the_least_of_all_decide() -> None:
    """13.2 lb in all at the end: held once 6 and once 13.5 lb."""
    assert "more-than-all" in codes(run("support", [*typed(MAPLE, held__end="6lb"), "held@end=13.5lb"]))
    assert "more-than-all" in codes(run("support", [*typed(MAPLE, held__end="12lb"), "weight@end=11.5lb"]))


def test_a_weighing_without_its_mates_is_refused() -> None:
    given = [t for t in typed(MAPLE) if not t.startswith("span@end")]
    finding = run("support", given)
    assert acts(finding)["unpaired"] == "refuse" and "span@end" in finding.refused[0].text


def test_nothing_weighed_is_refused() -> None:
    assert acts(run("support", typed(MAPLE, span__end="0")))["no-size"] == "refuse"
    assert "no-size" not in codes(run("support", typed(MAPLE, held__end="0lb")))


def test_a_span_in_the_other_unit_is_doubted() -> None:
    assert acts(run("support", typed(MAPLE, 406.4)))["unexpected-size"] == "doubt"


@pytest.mark.parametrize(("edge", "words", "moves"), [(20.0, "inside", 0), (13.0, "inside", 1), (12.0, "OUTSIDE", 1)])
def test_drawings(edge: float, words: str, moves: int) -> None:
    loads = {end: Load(load.bodies, edge) for end, load in MAPLE.items()}
    run_taken = taken("support", typed(loads, 14.0))
    founds = CHECK.evaluate(run_taken)
    if words == "OUTSIDE":
        assert founds[0].value.value == 0.0
    after = CHECK.draw(run_taken, founds)
    assert words in after.told and len(arrows(after)) == moves
    assert "whichever comes first" in CHECK.draw(run_taken, ()).told


@pytest.mark.parametrize(("edge", "x"), [(20.0, 0.0), (13.0, -7.25), (14.5, -5.0)])
def test_the_balance_is_drawn_as_far_inside_the_line_as_it_lies(edge: float, x: float) -> None:
    """The line at -8, three units for the reserve of 2 in, and never beyond the scale: margins 7.5, 0.5 and 2 in."""
    one = taken("support", typed({"end": Load(MAPLE["end"].bodies, edge)}, 14.0))
    ((start, end),) = normal(CHECK.draw(one, CHECK.evaluate(one))).lines["found"]
    assert start[0] == end[0] == pytest.approx(x, abs=2e-3)


def test_coverage() -> None:
    assert 0.91 <= coverage(support, 250, seed=47)["support-margin"] <= 0.985
