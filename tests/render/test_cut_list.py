"""A board whose cuts lie close together: its drawing keeps to lines and letters, and a list has the numbers."""

from tests.render import samples
from tests.render.samples import IN, show

from trued.drawing.shapes import Label, Line
from trued.plan.layout.cut_tree import Axis, Cut, Node, Part, Used, Waste, cuts
from trued.plan.layout.pieces import Rect, Stock
from trued.render.board import board_key, letters
from trued.render.cut_list import crowded, cut_lists

KERF = IN // 10


def blanks() -> Used:
    """A board of 40 × 6: ripped at 3, then two blanks of 10 1/2, each with its end squared 1/4 in off."""
    stock = Stock("N", 40 * IN, 6 * IN)
    high = Rect(0, 3 * IN + KERF, 40 * IN, 3 * IN - KERF)
    node: Node = Waste(Rect(21 * IN + 2 * KERF, 0, 19 * IN - 2 * KERF, 3 * IN))
    for n in (2, 1):
        start = (n - 1) * (21 * IN // 2 + KERF)
        blank = Rect(start, 0, 21 * IN // 2, 3 * IN)
        trimmed = Rect(start + IN // 4, 0, blank.length - IN // 4, 3 * IN)
        waste = Waste(Rect(start, 0, IN // 4 - KERF, 3 * IN))
        trim = Cut(blank, Axis.ACROSS, IN // 4 - KERF, KERF, waste, Part(trimmed, "leg", n))
        node = Cut(Rect(start, 0, 40 * IN - start, 3 * IN), Axis.ACROSS, blank.length, KERF, trim, node)
    return Used(stock, 1, Cut(Rect(0, 0, 40 * IN, 6 * IN), Axis.ALONG, 3 * IN, KERF, node, Part(high, "rail", 1)))


def test_only_a_crowded_board_needs_a_list() -> None:
    assert crowded(samples.told(blanks()))
    board = samples.told(samples.board())
    assert not crowded(board) and not crowded(samples.told(samples.sheet()))
    key = board_key(board, show=show, letters=letters([board]))
    assert "cuts" not in [line.letter for line in key]


def test_each_cut_once_with_its_number_and_place_strip_by_strip() -> None:
    board = samples.told(blanks())
    assert [cut.number for cut in board.cuts] == [1, 2, 3, 4, 5] and len(list(cuts(blanks().tree))) == 5
    listed = {strip: text.replace("\u00a0", " ") for strip, text in cut_lists(board, show)}
    assert listed["along, from the reference edge"] == "cut 1 at 3"
    across = listed["across, in the strip 0 to 3 from the reference edge"].split(", ")
    # By hand: the blanks end at 10 1/2 and 21 1/10 (to 1/64: 21 3/32); the trims lie 1/4 less a kerf of 0.1 inside.
    assert sorted(text.partition(" at ")[2] for text in across) == sorted(["10 1/2", "5/32", "21 3/32", "10 3/4"])
    assert [text.split()[1] for text in across] == ["2", "3", "4", "5"]
    assert all(" " not in part for _, text in cut_lists(board, show) for part in text.split(", "))


def test_the_drawing_of_a_crowded_board_has_letters_and_lines_alone() -> None:
    used = blanks()
    drawn = samples.drawn(used)
    words = {shape.text for shape in drawn.shapes if isinstance(shape, Label)}
    assert words <= {"A1", "A2", "B1", "keep", "waste", "0, reference end"} and {"A1", "A2", "B1"} <= words
    assert len([shape for shape in drawn.shapes if isinstance(shape, Line) and shape.role == "kerf"]) == 5
    key = board_key(samples.told(used), show=show, letters=letters([samples.told(used)]))
    assert [line.letter for line in key].count("cuts") == 2
