"""Words keep out of each other's way and stay in the picture, however they are asked for."""

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.render.all_drawings import outside, overlapping

from trued.drawing.shapes import Drawing, Label, Line
from trued.render.picture.place_labels import Box, crosses, place
from trued.render.picture.svg import picture

WORDS = st.text(st.sampled_from("abcdefg hijkl MW 13/8"), min_size=1, max_size=60)
PLACES = st.tuples(st.floats(-5, 5), st.floats(-5, 5))
LABELS = st.builds(Label, PLACES, WORDS, st.sampled_from(["note", "move"]), st.sampled_from(["start", "middle", "end"]))


@given(st.lists(LABELS, min_size=1, max_size=12))
@settings(max_examples=40)
def test_no_label_is_cut_off_and_none_lies_on_another(labels: list[Label]) -> None:
    made = picture(Drawing("t", "t", (Line((-5, -5), (5, 5), "measure"), *labels)))
    assert (outside(made), overlapping(made)) == ([], [])


def test_a_label_with_room_lies_where_it_was_asked_for() -> None:
    made = picture(Drawing("t", "t", (Line((0, 0), (10, 0), "measure"), Label((5, 3), "here"))))
    box = made.labels[0].box
    x, y = made.frame.at((5, 3))
    assert (box.left + box.width / 2, box.top + box.height / 2) == (x, y)
    assert made.labels[0].leader is None


def test_a_label_that_had_to_go_far_has_a_line_to_its_place() -> None:
    many = tuple(Label((5, 0), f"number {n}") for n in range(9))
    made = picture(Drawing("t", "t", (Line((0, 0), (10, 0), "measure"), *many)))
    assert made.labels[0].leader is None
    leaders = [label.leader for label in made.labels if label.leader]
    assert len(leaders) >= 4 and {to for _, to in leaders} == {made.frame.at((5, 0))}


def test_where_no_near_place_is_free_there_is_room_below() -> None:
    tight = picture(Drawing("t", "t", tuple(Label((0, 0), f"label of nearly full width {n}") for n in range(40))))
    assert (outside(tight), overlapping(tight)) == ([], [])


def test_without_words_there_is_nothing_to_place() -> None:
    assert place([], [], 360, 13) == []


def test_a_line_crosses_a_box_or_not() -> None:
    box = Box(0, 0, 10, 4)
    assert crosses(((-5, 2), (15, 2)), box) and crosses(((5, -5), (5, 9)), box) and crosses(((1, 1), (2, 2)), box)
    assert not crosses(((-5, 5), (15, 5)), box)
    assert not crosses(((-1, -5), (-1, 9)), box)
    assert not crosses(((-5, 0), (1, 9)), box)
