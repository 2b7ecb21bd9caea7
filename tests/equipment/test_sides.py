"""Compass words for a sled: the four layouts worked out by hand, and two laws that tie them together."""

import pytest

from trued.equipment.sides import SledLayout, screw_moves_from_work

OPENING = [
    ("far", "left", "the left end of the fence away from you", "counterclockwise"),
    ("operator", "left", "the left end of the fence toward you", "clockwise"),
    ("far", "right", "the right end of the fence away from you", "clockwise"),
    ("operator", "right", "the right end of the fence toward you", "counterclockwise"),
]


@pytest.mark.parametrize(("fence", "keeper", "opening", "board"), OPENING)
def test_four_layouts(fence: str, keeper: str, opening: str, board: str) -> None:
    layout = SledLayout(fence, keeper)
    assert layout.fence_turn(opening=True) == opening
    assert layout.board_turn() == board
    closing = layout.fence_turn(opening=False)
    assert ("toward" in closing) != ("toward" in opening)


@pytest.mark.parametrize(("fence", "keeper", "opening", "board"), OPENING)
def test_opening_turns_the_fence_against_the_board_s_turn(fence: str, keeper: str, opening: str, board: str) -> None:
    clockwise = ("left" in opening) == ("away" in opening)
    assert clockwise == ("counter" in board)


def test_out_of_the_work() -> None:
    assert SledLayout("far", "left").way(from_work=True) == "away from you"
    assert SledLayout("operator", "right").way(from_work=True) == "toward you"
    assert SledLayout("far", "right").way(from_work=False) == "toward you"


def test_the_screw_goes_out_of_the_work_only_beyond_a_pivot_near_the_blade() -> None:
    assert screw_moves_from_work("near-blade", "keeper", opening=True) is True
    assert screw_moves_from_work("near-blade", "offcut", opening=True) is False
    assert screw_moves_from_work("far-from-blade", "keeper", opening=True) is False
    assert screw_moves_from_work("far-from-blade", "offcut", opening=False) is True
    assert screw_moves_from_work("near-blade", "keeper", opening=False) is False
    assert screw_moves_from_work("", "keeper", opening=True) is None
    assert screw_moves_from_work("near-blade", "", opening=True) is None


def test_an_unknown_layout() -> None:
    assert SledLayout.known("", "left") is None and SledLayout.known("far", "") is None
    assert SledLayout.known("far", "left") == SledLayout("far", "left")
    with pytest.raises(ValueError, match="fence is far or operator"):
        SledLayout("front", "left")
