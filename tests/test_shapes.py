"""Drawings as values that cannot be built empty."""

import pytest

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, not_to_be_moved, rectangle


def test_a_rectangle_runs_round_its_corners() -> None:
    path = rectangle(1.0, 2.0, 3.0, 4.0, "table")
    assert path.points == ((1.0, 2.0), (4.0, 2.0), (4.0, 6.0), (1.0, 6.0)) and path.closed and path.role == "table"


def test_what_cannot_be_drawn() -> None:
    with pytest.raises(ValueError, match="two points"):
        Path(((0.0, 0.0),), "cut")
    with pytest.raises(ValueError, match="anchor"):
        Label((0.0, 0.0), "here", anchor="left")
    shapes = (Line((0, 0), (1, 1), "cut"),)
    for title, told, drawn in (("", "told", shapes), ("title", "", shapes), ("title", "told", ())):
        with pytest.raises(ValueError, match="a title, the same told in words"):
            Drawing(title, told, drawn)


def test_a_drawing_is_a_value() -> None:
    shapes = (Line((0, 0), (1, 1), "cut", dashed=True), Arrow((0, 0), (1, 0), "move", both_ends=True))
    assert Drawing("t", "told", shapes) == Drawing("t", "told", shapes)
    assert hash(Drawing("t", "told", shapes)) == hash(Drawing("t", "told", shapes))


def test_what_gives_no_move_is_drawn_without_one() -> None:
    board = rectangle(0, 0, 2, 1, "board")
    drawing = Drawing("A board", "It is tight.", (board, Arrow((0, 0), (1, 0), "move"), Label((1, 1), "open", "move")))
    still = not_to_be_moved(drawing)
    assert still.shapes == (board,)
    assert still.told == "It is tight. Turn nothing by this drawing: go by what is said to do."
    assert not_to_be_moved(still) == still


def test_what_is_not_to_be_mended_is_not_told_either() -> None:
    """Beside "Turn nothing" no words may say which way to turn."""
    board = rectangle(0, 0, 2, 1, "board")
    told = "It is tight. To mend it open it. It is a board."
    still = not_to_be_moved(Drawing("A board", told, (board,), "To mend it open it."))
    assert still.told == "It is tight. It is a board. Turn nothing by this drawing: go by what is said to do."
    with pytest.raises(ValueError, match="a part of what is told"):
        Drawing("A board", told, (board,), "Close it.")
