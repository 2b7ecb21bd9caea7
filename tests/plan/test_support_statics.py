"""Reactions and tipping against textbooks, and laws of the balance."""

import json
from math import inf
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from trued.errors import InputRefused
from trued.plan.support.statics import (
    STANDARD_GRAVITY,
    Body,
    Ground,
    Margins,
    margin_inside_mm,
    outline,
    press_to_tip,
    together,
    two_supports,
)

BOOK: dict[str, Any] = json.loads((Path(__file__).parent.parent / "data" / "statics_textbook.json").read_text("utf-8"))
G = 9.8  # what the textbooks use

places = st.floats(-2000, 2000)
bodies = st.lists(st.builds(Body, st.floats(0.1, 50), places, places), min_size=1, max_size=5)


def test_openstax_person_on_a_scaffold() -> None:
    """Printed 711.0 N and 466.0 N: rounded to three figures and given a false last digit."""
    reactions = two_supports((Body(70, 3000), Body(50, 1500)), 0, 6000, gravity=G)
    assert reactions == pytest.approx(BOOK["scaffold_two_ropes"]["printed_N"], abs=0.6)


def test_openstax_painter() -> None:
    """With the book's 16.0 kg of equipment the left tension is twice the right one."""
    printed = BOOK["painter_scaffold"]["printed"]
    load = (Body(40, 3000), Body(80, 1000), Body(printed["equipment_kg"], 4500))
    left, right = two_supports(load, 0, 6000, gravity=G)
    assert (left, right) == pytest.approx((printed["left_N"], printed["right_N"]), abs=0.05)
    assert left == pytest.approx(2 * right)


def test_openstax_torque_balance() -> None:
    """With the book's 316 2/3 g the metre stick balances on its fulcrum, which carries 5.8 N."""
    whole = together((Body(0.150, -200), Body(0.050, -700), Body(0.075, -400), Body(0.95 / 3, 300)))
    assert whole.x_mm == pytest.approx(0, abs=1e-9)
    assert whole.mass_kg * G == pytest.approx(BOOK["torque_balance"]["support_N_printed"], abs=0.05)


def test_table_on_two_legs() -> None:
    reactions = two_supports((Body(10, 0), Body(115, -1000)), -2000, 2000, gravity=G)
    assert reactions == pytest.approx(BOOK["table_two_legs"]["printed_N"], abs=0.005)


def test_serway_board_starts_to_tilt() -> None:
    """Box 15.0 cm past the edge: the centre of mass stands over the edge; nearer holds, farther tips."""
    table = Ground(keeper_mm=0, offcut_mm=300, operator_mm=50, far_mm=50)
    printed_mm = BOOK["serway_board"]["printed_m"] * 1000

    def margin(box_mm: float) -> float:
        whole = together((Body(6, -50), Body(2, box_mm)))
        return margin_inside_mm(outline(table.corners), (whole.x_mm, whole.y_mm))

    assert margin(printed_mm) == pytest.approx(0, abs=1e-9)
    assert margin(printed_mm - 1) > 0 > margin(printed_mm + 1)
    assert two_supports((Body(6, -50), Body(2, printed_mm)), -300, 0)[0] == pytest.approx(0, abs=1e-9)


@given(bodies, places, places)
def test_two_supports_satisfy_both_equations_of_statics(load: list[Body], first: float, second: float) -> None:
    """Forces sum to the weight, and moments about any point (here the origin) balance."""
    assume(abs(first - second) > 1)
    reactions = two_supports(load, first, second)
    weight = sum(body.mass_kg for body in load) * STANDARD_GRAVITY
    moment = sum(body.mass_kg * STANDARD_GRAVITY * body.x_mm for body in load)
    assert sum(reactions) == pytest.approx(weight)
    assert reactions[0] * first + reactions[1] * second == pytest.approx(moment, rel=1e-6, abs=weight * 1e-3)


@given(bodies, st.floats(-2000, 0), st.floats(1, 2000))
def test_a_support_would_have_to_pull_exactly_when_it_tips(load: list[Body], first: float, second: float) -> None:
    centre = together(load).x_mm
    margin = Ground(second, -first, 1, 1).margins_mm((centre, 0))
    assume(min(abs(margin.keeper_mm), abs(margin.offcut_mm)) > 1e-6)
    assert (min(two_supports(load, first, second)) < 0) == (min(margin.keeper_mm, margin.offcut_mm) < 0)


@given(bodies, places, places)
def test_the_balance_does_not_depend_on_the_origin(load: list[Body], dx: float, dy: float) -> None:
    table = Ground(500, 400, 300, 200)
    moved = Ground(500 + dx, 400 - dx, 300 + dy, 200 - dy)
    here = together(load)
    there = together([Body(b.mass_kg, b.x_mm + dx, b.y_mm + dy) for b in load])
    here_mm = margin_inside_mm(outline(table.corners), (here.x_mm, here.y_mm))
    there_mm = margin_inside_mm(outline(moved.corners), (there.x_mm, there.y_mm))
    assert here_mm == pytest.approx(there_mm, abs=1e-6)
    assert here_mm == pytest.approx(table.margins_mm((here.x_mm, here.y_mm)).least_mm, abs=1e-6) or here_mm < 0


@given(st.floats(1, 20), st.floats(-90, 90), st.floats(-90, 90))
def test_the_press_brings_it_exactly_to_the_edge(mass: float, x: float, y: float) -> None:
    """Adding the press as a weight puts the common centre of mass on the edge; 1 % less leaves it inside."""
    ring = outline(Ground(100, 100, 100, 100).corners)
    corners = Ground(250, 150, 90, 120).corners
    press = press_to_tip(mass * STANDARD_GRAVITY, (x, y), ring, corners)
    assert press.at in corners

    def margin(share: float) -> float:
        whole = together((Body(mass, x, y), Body(share * press.newton / STANDARD_GRAVITY, *press.at)))
        return margin_inside_mm(ring, (whole.x_mm, whole.y_mm))

    assert margin(1.0) == pytest.approx(0, abs=1e-6)
    assert margin(0.99) > 0


def test_no_press_tips_what_hangs_over_nowhere() -> None:
    ring = outline(Ground(100, 100, 100, 100).corners)
    assert press_to_tip(10, (0, 0), ring, Ground(90, 90, 100, 100).corners).newton == inf


def test_what_tips_by_itself_needs_no_press() -> None:
    ring = outline(Ground(100, 100, 100, 100).corners)
    assert press_to_tip(10, (120, 0), ring, Ground(150, 150, 50, 50).corners).newton == 0


def test_outline_of_table_and_shorter_wing_has_slanting_edges() -> None:
    """Table 100 square and a wing 50 × 40 beside it: six corners; over the wing's corner it stands outside."""
    table, wing = Ground(100, 0, 100, 0), Ground(150, -100, 70, -30)
    ring = outline(table.corners + wing.corners)
    assert len(ring) == 6
    assert margin_inside_mm(ring, (148, 95)) < 0 < margin_inside_mm(ring, (140, 50))


def test_what_two_rectangles_share() -> None:
    assert Ground(10, 10, 10, 10).shared_with(Ground(5, 20, 30, 2)) == Ground(5, 10, 10, 2)
    assert Ground(10, 10, 10, 10).shared_with(Ground(30, -10, 5, 5)) is None


def test_margins_know_their_least() -> None:
    assert Margins(4, 3, -2, 8).least_mm == -2


@pytest.mark.parametrize("edges", [(10, -10, 5, 5), (10, 10, -5, 5), (float("inf"), 1, 1, 1)])
def test_an_empty_rectangle_cannot_be_built(edges: tuple[float, float, float, float]) -> None:
    with pytest.raises(InputRefused, match="beyond"):
        Ground(*edges)


@pytest.mark.parametrize(("mass", "x"), [(0, 0), (-1, 0), (float("nan"), 0), (1, float("inf"))])
def test_a_body_cannot_be_built_wrong(mass: float, x: float) -> None:
    with pytest.raises(InputRefused):
        Body(mass, x)


def test_nothing_cannot_be_weighed() -> None:
    with pytest.raises(InputRefused, match="at least one"):
        together(())


def test_two_supports_must_be_apart() -> None:
    with pytest.raises(InputRefused, match="apart"):
        two_supports((Body(1, 0),), 5, 5)
