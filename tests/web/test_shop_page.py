"""The shop described on the page: every question may be skipped, what is typed is kept and asked nowhere again."""

from __future__ import annotations

import pytest
from tests.web.asking import Inputs, Site
from tests.web.test_pages import is_sound

from trued.usecases.shop.describing import list_questions
from trued.usecases.shop.shop_now import shop_now

IDS = ("unit", "have", "sled", "pivot", "radius", "blade", "knife", "slot", "table", "heights", "manual", "instruments")
SLED = [("pick", "operator right")]


def test_at_most_twelve_questions_lead_from_one_to_the_next(shop: Site) -> None:
    questions = list_questions(shop_now(shop.book).shop)
    assert tuple(question.id for question in questions if not question.later) == IDS
    for later in (question.id for question in questions if question.later):
        assert shop.post(f"/shop/{later}", Inputs(shop.get(f"/shop/{later}").text).pairs).headers["location"] == "/shop"
    for id, after in zip(IDS, (*IDS[1:], ""), strict=True):
        page = shop.get(f"/shop/{id}")
        assert page.status_code == 200
        is_sound(page.text)
        assert f'href="/shop/{after}"' in page.text if after else 'href="/shop"' in page.text
        sent = shop.post(f"/shop/{id}", Inputs(page.text).pairs)
        assert sent.headers["location"] == (f"/shop/{after}" if after else "/shop")


@pytest.mark.parametrize("known", ["empty", "shop"])
def test_every_page_opens_whatever_is_left_out(known: str, request: pytest.FixtureRequest) -> None:
    site: Site = request.getfixturevalue(known)
    for path in (
        "/",
        "/shop",
        "/checks",
        "/checks/five-cut",
        "/checks/wing",
        "/jobs",
        "/moved",
        *(f"/shop/{id}" for id in (*IDS, "platform", "fit")),
    ):
        assert site.get(path).status_code == 200, path


def test_from_an_empty_book_to_a_check_that_asks_nothing_again(empty: Site) -> None:
    assert 'href="/shop"' in empty.get("/").text
    assert empty.post("/shop/unit", [("pick", "in")]).status_code == 303
    assert empty.post("/shop/have", [("pick", "sled")]).headers["location"] == "/shop/sled"
    assert "fence" in empty.get("/checks/five-cut").text.lower()
    asked = {name for name, _ in Inputs(empty.get("/checks/five-cut").text).pairs}
    assert empty.post("/shop/sled", SLED).status_code == 303
    now = {name for name, _ in Inputs(empty.get("/checks/five-cut").text).pairs}
    assert now <= asked
    sled = shop_now(empty.book).shop.sled
    assert sled is not None and sled.word("fence") == "operator" and sled.word("keeper") == "right"
    assert "Fence on your side, kept piece right" in empty.get("/shop").text


def test_a_slip_comes_back_as_it_was_typed(empty: Site) -> None:
    answer = empty.post("/shop/table", [("left", "11"), ("right", "22 3/"), ("operator", ""), ("far", "ten")])
    assert answer.status_code == 422
    fields = Inputs(answer.text)
    assert [fields.value(name) for name in ("left", "right", "far")] == ["11", "22 3/", "ten"]
    assert answer.text.count("aria-invalid") == 2
    saw = shop_now(empty.book).shop.saw
    assert saw is None or saw.table.left_mm is None


def test_an_answer_of_nothing_says_what_to_do(empty: Site) -> None:
    answer = empty.post("/shop/radius", [("radius", " ")])
    assert answer.status_code == 422 and "press Skip" in answer.text
    assert empty.get("/shop/nothing").status_code == 404


def test_hostile_text_is_only_text(empty: Site) -> None:
    answer = empty.post("/shop/radius", [("radius", '"]\n[saw]\nid = "x<script>')])
    assert answer.status_code == 422 and "<script>" not in answer.text.replace("<script src", "")
    assert shop_now(empty.book).shop.saw is None
