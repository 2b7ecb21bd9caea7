"""The drawing of a stock piece says what its cut tree says."""

import re

import pytest
from tests.render import samples

from trued.drawing.shapes import Label, Path
from trued.plan.layout.cut_tree import Axis, Cut, Part, Used, cuts, parts
from trued.plan.layout.pieces import Rect, Stock, to_mm
from trued.render.board import board_drawing, board_key, letters

BOARDS = [samples.board(), samples.sheet()]


def labels(used: Used) -> list[str]:
    return [shape.text for shape in samples.drawn(used).shapes if isinstance(shape, Label)]


def test_letters_are_the_same_on_all_boards_and_in_the_order_of_coming_up() -> None:
    assert letters([samples.told(used) for used in BOARDS]) == {"side": "A", "shelf": "B", "bottom": "C"}


def test_after_z_come_two_letters() -> None:
    stock = Stock("long", 100, 1)
    node: Part | Cut = Part(Rect(0, 0, 1, 1), "p0", 1)
    for n in range(1, 30):
        node = Cut(Rect(0, 0, n + 1, 1), Axis.ACROSS, n, 0, node, Part(Rect(n, 0, 1, 1), f"p{n}", 1))
    found = letters([samples.told(Used(stock, 1, node))])
    assert (found["p0"], found["p25"], found["p26"], found["p29"]) == ("A", "Z", "AA", "AD")


@pytest.mark.parametrize("used", BOARDS, ids=["board", "sheet"])
def test_every_part_is_drawn_at_its_place_and_named(used: Used) -> None:
    shapes = samples.drawn(used).shapes
    drawn = {
        tuple((round(x, 6), round(y, 6)) for x, y in shape.points[0::2])
        for shape in shapes
        if isinstance(shape, Path) and shape.role.startswith("hatch-")
    }
    assert drawn == {
        tuple(
            (round(to_mm(x), 6), round(to_mm(y), 6))
            for x, y in ((p.piece.x, p.piece.y), (p.piece.end_x, p.piece.end_y))
        )
        for p in parts(used.tree)
    }
    named = letters([samples.told(used)])
    assert {f"{named[part.want]}{part.copy}" for part in parts(used.tree)} <= set(labels(used))


def test_kinds_differ_by_hatching() -> None:
    used = samples.sheet()
    roles = [s.role for s in samples.drawn(used).shapes if isinstance(s, Path) and s.role.startswith("hatch-")]
    assert len(roles) == 4 and len(set(roles)) == 3


def test_running_distances_are_from_the_reference_end_to_the_near_side_of_each_cut() -> None:
    # Summed by hand: trim 1/2 in with the kerf in it, then 30 and 2 × 13 3/8 in with a kerf of 0.094 in after each.
    assert [text for text in labels(samples.board()) if re.fullmatch(r"[\d /]+", text)] == [
        "13/32",
        "30 1/2",
        "43 31/32",
        "57 7/16",
    ]


@pytest.mark.parametrize("used", BOARDS, ids=["board", "sheet"])
def test_every_cut_has_its_number_when_the_order_is_known(used: Used) -> None:
    count = len(list(cuts(used.tree)))
    assert [text for text in labels(used) if text.startswith("cut ")] == [f"cut {n}" for n in range(1, count + 1)]
    plain = board_drawing(samples.told(used, ordered=False), show=samples.show, letters=letters([samples.told(used)]))
    assert not any(isinstance(shape, Label) and shape.text.startswith("cut ") for shape in plain.shapes)


def test_offcuts_and_waste_are_marked_and_a_narrow_trim_is_only_crossed_out() -> None:
    assert labels(samples.board()).count("keep") == 1 and "waste" not in labels(samples.board())
    assert labels(samples.sheet()).count("waste") == 4 and "defect" in labels(samples.sheet())


def test_the_words_tell_every_part_and_not_to_scale() -> None:
    told = samples.drawn(samples.board()).told
    assert "A1 side: 1/2 to 30 1/2 from the reference end." in told
    assert "To keep, 14 15/32 × 7 1/4: 57 17/32 to 72 from the reference end." in told
    assert told.endswith("Drawn in proportion: do not scale.")


def test_the_key_lists_each_letter_with_its_size_and_places() -> None:
    used = samples.sheet()
    key = board_key(samples.told(used), show=samples.show, letters=letters([samples.told(used)]))
    assert [(line.letter, line.name, line.size) for line in key] == [
        ("A", "side", "24 × 15"),
        ("B", "shelf", "18 × 11"),
        ("C", "bottom", "22 × 14 7/8"),
    ]
    assert key[0].places == ("A1: 0 to 24 from the reference end, 0 to 15 from the reference edge",)
    kept = board_key(
        samples.told(samples.board()), show=samples.show, letters=letters([samples.told(samples.board())])
    )[-1]
    assert (kept.letter, kept.name, kept.size) == ("keep", "offcut", "14 15/32 × 7 1/4")
