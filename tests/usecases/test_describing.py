"""A shop described by answers is the shop that a file describes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from trued.drawing.shapes import Path as Area
from trued.equipment.file.read_shop import read_shop
from trued.equipment.saw import BANS
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.usecases.book.ready_book import ready_book
from trued.usecases.shop.describing import describe, list_questions, one_question
from trued.usecases.shop.shop_drawing import pivot_picture, shop_drawing, sled_picture
from trued.usecases.shop.shop_now import shop_now

EXAMPLE = read_shop((Path(__file__).parents[2] / "examples" / "shop.toml").read_text(encoding="utf-8"))


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """An empty book."""
    path = tmp_path / "shop.trued"
    ready_book(path, make=True)
    return path


def answered(book: Path, like: Shop, *left_out: str) -> Shop:
    """Every question of the shop answered as that shop is, but for some."""
    for question in list_questions(like):
        shop = shop_now(book).shop
        if question.id not in left_out and question in list_questions(shop):
            describe(question, question.typed(like), shop, book)
    return shop_now(book).shop


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_all_that_is_answered_is_as_from_the_file(book: Path, unit: str) -> None:
    like = replace(EXAMPLE, unit=unit)  # type: ignore[arg-type]
    shop = answered(book, like)
    for question in list_questions(like):
        assert question.known(shop) == question.known(like) != (), question.id
    assert shop.saw is not None and like.saw is not None and shop.blade is not None and like.blade is not None
    assert shop.saw.table == like.saw.table and shop.saw.max_cut_mm == like.saw.max_cut_mm
    assert (shop.saw.slot_mm, shop.saw.slot_side, shop.saw.knife_mm, shop.saw.rip_mm, shop.saw.maker_forbids) == (
        like.saw.slot_mm,
        like.saw.slot_side,
        like.saw.knife_mm,
        like.saw.rip_mm,
        like.saw.maker_forbids,
    )
    assert (shop.blade.kerf_mm, shop.blade.plate_mm) == (like.blade.kerf_mm, like.blade.plate_mm)
    assert shop.sled is not None and like.sled is not None
    told = ("fence", "keeper", "pivot", "screw", "radius")
    assert {name: shop.sled.facts[name] for name in told} == {name: like.sled.facts[name] for name in told}
    assert {one.kind: one.resolution for one in shop.instruments} == {
        one.kind: one.resolution for one in like.instruments
    }


@pytest.mark.parametrize("id", [question.id for question in list_questions(EXAMPLE)])
def test_each_may_be_left_out(book: Path, id: str) -> None:
    shop = answered(book, EXAMPLE, id)
    question = one_question(id)
    assert question not in list_questions(shop) or not question.known(shop) or id in ("unit", "have")


def test_the_same_answer_twice_changes_nothing(book: Path) -> None:
    first = answered(book, EXAMPLE)
    assert answered(book, EXAMPLE) == first


@pytest.mark.parametrize(
    ("id", "given", "where"),
    [
        ("radius", {"radius": ["long"]}, "radius"),
        ("radius", {"radius": [""]}, ""),
        ("slot", {"slot": ["5 1/"], "pick": ["left"]}, "slot"),
        ("table", {"left": ["-3"], "far": ["x"]}, "left"),
        ("heights", {"90": ["tall"]}, "90"),
        ("blade", {"kerf": ["0.06"], "plate": ["0.07"]}, "kerf"),
        ("sled", {"pick": ["up down"]}, ""),
        ("unit", {"pick": ["cubits"]}, ""),
        ("manual", {"pick": []}, None),
    ],
)
def test_what_cannot_be_is_refused_beside_its_field_and_nothing_is_kept(
    book: Path, id: str, given: dict[str, list[str]], where: str | None
) -> None:
    before = answered(book, EXAMPLE, id)
    if where is None:
        describe(one_question(id), given, before, book)  # it was looked into, and forbids nothing
        saw = shop_now(book).shop.saw
        assert saw is not None and saw.maker_forbids == ()
        return
    with pytest.raises(InputRefused) as refused:
        describe(one_question(id), given, before, book)
    assert refused.value.faults[0].where == where
    assert shop_now(book).shop == before


def test_what_is_gone_is_retired_and_comes_back(book: Path) -> None:
    shop = answered(book, EXAMPLE)
    have = one_question("have")
    describe(have, {"pick": ["gauge"]}, shop, book)
    shop = shop_now(book).shop
    assert have.picked(shop) == ("gauge",) and shop.fixture("sled").retired
    assert shop.sled is not None and shop.sled.kind == "mitre-gauge"
    describe(have, {"pick": ["sled", "wing"]}, shop, book)
    assert shop_now(book).shop.fixture("sled").facts["radius"] == EXAMPLE.fixture("sled").facts["radius"]


def test_every_ban_has_its_words() -> None:
    assert [choice.word for choice in one_question("manual").choices] == list(BANS)


def test_the_drawing_grows() -> None:
    def dashed(shop: Shop) -> int:
        return sum(getattr(shape, "role", "") == "hidden" for shape in shop_drawing(shop).shapes)

    assert dashed(Shop()) > dashed(replace(EXAMPLE, saw=replace(EXAMPLE.saw, slot_mm=None))) > dashed(EXAMPLE) == 0  # type: ignore[type-var]
    for question in list_questions(EXAMPLE):
        assert shop_drawing(Shop(), question.id).shapes


def test_four_sleds_and_four_pivots_are_drawn_apart() -> None:
    sleds = [sled_picture(fence, keeper) for fence in ("far", "operator") for keeper in ("left", "right")]
    assert len({drawing.shapes for drawing in sleds}) == len({drawing.told for drawing in sleds}) == 4
    for fence in ("far", "operator", ""):
        for keeper in ("left", "right", ""):
            drawn = {
                pivot_picture(pivot, screw, fence, keeper).shapes
                for pivot in ("near-blade", "far-from-blade")
                for screw in ("keeper", "offcut")
            }
            assert len(drawn) == 4
    far = [shape for shape in sled_picture("far", "left").shapes if isinstance(shape, Area) and shape.role == "fence"]
    assert all(y > 0 for _, y in far[0].points)
