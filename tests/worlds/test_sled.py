"""The simulated sled against plane geometry that can be said in a sentence."""

import math

import pytest
from tests.worlds.sled import LAYOUTS, Sled


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_square_fence_makes_an_even_strip_from_a_crooked_board(fence: str, keeper: str) -> None:
    strip = Sled(fence, keeper).five_cuts()
    assert strip.fence_end == pytest.approx(strip.free_end, abs=1e-12)
    assert strip.middle == pytest.approx(strip.free_end, abs=1e-12)


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_a_board_turned_once_round_comes_back(fence: str, keeper: str) -> None:
    """Four quarter turns, each with the fresh edge to the fence, make one whole turn; the sense follows the layout."""
    turns = Sled(fence, keeper).five_cuts().turns[1:]
    assert abs(sum(turns)) == pytest.approx(2 * math.pi, abs=1e-9)
    assert all(t * turns[0] > 0 for t in turns)


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_moving_the_far_end_out_of_the_work_opens_the_corner(fence: str, keeper: str) -> None:
    sled = Sled(fence, keeper, screw="keeper")
    sled.push_screw(0.018, "away from the operator" if fence == "far" else "toward the operator")
    assert sled.tight == pytest.approx(-0.001, rel=1e-3)
