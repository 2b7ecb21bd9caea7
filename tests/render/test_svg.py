"""Drawings as SVG: whole, told in words, readable on a telephone, for every sample and every check."""

import re
from xml.etree import ElementTree as ET

import pytest
from tests.render import samples
from tests.render.all_drawings import DRAWINGS, outside, overlapping

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.render.picture.role_styles import LOOKS, page_css
from trued.render.picture.svg import picture, svg

SVG = "{http://www.w3.org/2000/svg}"


EACH = pytest.mark.parametrize("drawing", DRAWINGS.values(), ids=DRAWINGS.keys())


def read(drawing: Drawing, **wanted: str) -> ET.Element:
    return ET.fromstring(svg(drawing, **wanted))  # type: ignore[arg-type]  # noqa: S314 - our own XML


@EACH
def test_every_label_is_whole_and_none_lies_on_another(drawing: Drawing) -> None:
    for width in (360, 510):
        made = picture(drawing, width=width)
        assert (outside(made), overlapping(made)) == ([], [])


@EACH
def test_every_shape_lies_in_the_picture(drawing: Drawing) -> None:
    root = read(drawing)
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    points = [pair.split(",") for element in root.iter() for pair in element.attrib.get("points", "").split()]
    assert all(left <= float(x) <= left + width and top <= float(y) <= top + height for x, y in points)


@EACH
def test_it_is_told_in_words_under_ids_of_its_own(drawing: Drawing) -> None:
    root = read(drawing)
    title, told = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None and told is not None
    assert (title.text, told.text) == (drawing.title, drawing.told)
    assert root.attrib["role"] == "img"
    assert root.attrib["aria-labelledby"].split() == [title.attrib["id"], told.attrib["id"]]
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len(ids) == len(set(ids))


@EACH
def test_every_word_is_there_and_at_least_12_px_on_a_telephone(drawing: Drawing) -> None:
    root = read(drawing)
    words = ["".join(part.text or "" for part in text).replace("\u00a0", " ") for text in root.iter(f"{SVG}text")]
    asked = [shape.text for shape in drawing.shapes if isinstance(shape, Label)]
    assert sorted(word.replace(" ", "") for word in words) == sorted(word.replace(" ", "") for word in asked)
    size = re.search(r"\.drawing text \{[^}]*font-size: (\d+)px", page_css())
    assert size is not None
    assert int(size[1]) * 360 / float(root.attrib["viewBox"].split()[2]) >= 12


@EACH
def test_the_page_needs_no_style_attribute_and_print_no_style_sheet(drawing: Drawing) -> None:
    assert not any("style" in element.attrib for element in read(drawing).iter())
    printed = read(drawing, palette="print")
    drawn = [element for element in printed.iter() if element.tag in {f"{SVG}polyline", f"{SVG}polygon"}]
    assert drawn or all(isinstance(shape, Label) for shape in drawing.shapes)
    assert all("fill" in element.attrib and "class" not in element.attrib for element in drawn)
    assert all(text.attrib["font-family"] == "Source Sans Pro" for text in printed.iter(f"{SVG}text"))


@EACH
def test_every_class_has_its_rules(drawing: Drawing) -> None:
    named = {name for element in read(drawing).iter() for name in element.attrib.get("class", "").split()}
    assert {name for name in named if f".{name}" not in page_css()} == set()


def test_every_role_has_its_looks_for_light_and_dark() -> None:
    css = page_css()
    light, dark = css.split("prefers-color-scheme: dark", 1)
    inks = {look.ink for look in LOOKS.values()} | {look.fill for look in LOOKS.values() if look.fill}
    assert {ink for ink in inks if f"--drawing-{ink}:" not in light or f"--drawing-{ink}:" not in dark} == set()


def test_away_from_the_operator_is_up() -> None:
    made = picture(Drawing("t", "t", (rectangle(0, 0, 10, 10, "table"), Label((5, 9), "far"), Label((5, 1), "near"))))
    far, near = made.labels
    assert far.box.top < near.box.top


def test_x_and_y_keep_their_proportion() -> None:
    root = read(Drawing("t", "t", (rectangle(-3, 2, 20, 5, "board"),)))
    corners = [tuple(map(float, pair.split(","))) for pair in next(root.iter(f"{SVG}polygon")).attrib["points"].split()]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    assert (max(xs) - min(xs)) / (max(ys) - min(ys)) == pytest.approx(4.0, rel=0.01)


def test_two_drawings_on_one_page_do_not_share_ids() -> None:
    one, other = svg(samples.drawn(samples.board())), svg(samples.drawn(samples.sheet()))
    ids = re.compile(r' id="([^"]+)"')
    assert set(ids.findall(one)) & set(ids.findall(other)) == set()
    assert set(ids.findall(svg(samples.sled(), name="a"))) == {"a-title", "a-told"}


@pytest.mark.parametrize("text", samples.HOSTILE)
def test_no_words_can_break_out(text: str) -> None:
    role = 'x" onload="alert(1)'
    drawing = Drawing(text, text, (Line((0, 0), (1, 0), role, dashed=True), Label((0, 0), text, role)))
    for palette in ("page", "print"):
        root = read(drawing, palette=palette)
        assert [child.tag.removeprefix(SVG) for child in root] == ["title", "desc", "polyline", "text"]
        assert not any("onload" in element.attrib for element in root.iter())


def test_an_arrow_ends_at_its_place_however_short_it_is() -> None:
    for end in ((100.0, 0.0), (0.5, 0.0), (0.0, 0.0)):
        drawing = Drawing("t", "t", (Line((0, 0), (300, 0), "measure"), Arrow((0, 0), end, "move")))
        tip = next(read(drawing).iter(f"{SVG}polygon")).attrib["points"].split()[0]
        x, y = picture(drawing).frame.at(end)
        assert tip == f"{x:.1f},{y:.1f}"


def test_an_arrow_with_two_heads_keeps_both_between_its_ends() -> None:
    drawing = Drawing("t", "t", (Line((0, 0), (300, 0), "kerf"), Arrow((10, 0), (16, 0), "measure", both_ends=True)))
    heads = [polygon.attrib["points"].split() for polygon in read(drawing).iter(f"{SVG}polygon")]
    left, right = (picture(drawing).frame.at((x, 0))[0] for x in (10, 16))
    assert len(heads) == 2
    assert all(left - 0.1 <= float(point.split(",")[0]) <= right + 0.1 for head in heads for point in head)


def test_an_open_path_is_not_filled() -> None:
    root = read(Drawing("t", "t", (Path(((0, 0), (1, 1), (2, 0)), "found", closed=False),)))
    assert [child.tag.removeprefix(SVG) for child in root][-1] == "polyline"
