"""The whole saw on its feet, and the textbook's wall that mud turns over."""

import json
from math import inf
from pathlib import Path
from typing import Any

import pytest

from trued.errors import InputRefused
from trued.plan.support.overturn import HAND_KG, LEAST_RATIO, Push, overturning_ratio
from trued.plan.support.statics import Body

BOOK: dict[str, Any] = json.loads((Path(__file__).parent.parent / "data" / "statics_textbook.json").read_text("utf-8"))
INCH, POUND = 25.4, 0.45359237


def mud_ratio(depth_m: float) -> float:
    """A concrete wall 3.0 × 0.8 m against mud of this depth, for 1 m of wall: pressure rises evenly to the bottom."""
    wall = Body(2400 * 3.0 * 0.8, 400)
    mud = Push(1760 * 9.8 * depth_m**2 / 2, depth_m * 1000 / 3)
    return overturning_ratio((wall,), 800, (mud,), gravity=9.8)


def test_engineering_statics_mud_on_a_wall() -> None:
    """Printed answer 1.99 m; its last line prints 1.98, a misprint (the cube root is 1.98780)."""
    printed = BOOK["mud_on_wall_tipping"]["printed_answer_m"]
    assert mud_ratio(1.98780) == pytest.approx(1, abs=1e-4)
    assert mud_ratio(printed - 0.005) > 1 > mud_ratio(printed + 0.005)


def test_a_light_saw_with_a_hand_on_the_wing() -> None:
    """By hand: 60 lb at 0 and feet at 11 in hold 660; 15 lb at 23 in lift 180; 3.7 is over the 2 of common practice."""
    saw, hand = Body(60 * POUND, 0), Body(HAND_KG, 23 * INCH)
    ratio = overturning_ratio((saw, hand), 11 * INCH)
    assert ratio == pytest.approx(660 / 180)
    assert ratio > LEAST_RATIO


def test_sled_and_board_on_the_wing_bring_it_under_two() -> None:
    """By hand: 14 lb of sled and board at 12.5 in add 21, a hand at 40 in gives 435: 660 / 456 = 1.45."""
    load = (Body(60 * POUND, 0), Body(14 * POUND, 12.5 * INCH), Body(HAND_KG, 40 * INCH))
    assert overturning_ratio(load, 11 * INCH) == pytest.approx(660 / 456)


def test_nothing_overturns_what_stands_inside_its_feet() -> None:
    assert overturning_ratio((Body(20, 0),), 100) == inf


@pytest.mark.parametrize(("force", "height"), [(-1, 10), (10, float("nan"))])
def test_a_push_cannot_be_built_wrong(force: float, height: float) -> None:
    with pytest.raises(InputRefused, match="0 or more"):
        Push(force, height)
