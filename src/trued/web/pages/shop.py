"""The shop described by answers: what is known of it, and one question a page, each of which may be skipped."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.errors import Fault, InputRefused
from trued.usecases.shop.describing import Given, ShopQuestion, describe, list_questions, one_question
from trued.usecases.shop.shop_drawing import pivot_picture, shop_drawing, sled_picture
from trued.usecases.shop.shop_now import shop_now
from trued.usecases.views import Drawing, Shop
from trued.web.page_context import page, see, text_of, texts_of


def show(request: Request, book: Path) -> Response:
    """What is known of the shop, a line a question."""
    del request
    shop = shop_now(book).shop
    rows = [(question, question.known(shop)) for question in list_questions(shop)]
    first = next((question.id for question, known in rows if not known and not question.later), "")
    return page("shop.html", name=shop.name, rows=rows, first=first, drawing=shop_drawing(shop))


def ask(request: Request, book: Path) -> Response:
    """One question, with what is known already."""
    shop = shop_now(book).shop
    question = one_question(request.path_params["question"])
    return _drawn(question, shop, question.typed(shop), ())


def answer(request: Request, book: Path, form: FormData) -> Response:
    """Keep the answer and go on to the next question; or show it again with what is wrong."""
    shop = shop_now(book).shop
    question = one_question(request.path_params["question"])
    given = {size.key: [text_of(form, size.key)] for size in question.sizes} | {"pick": texts_of(form, "pick")}
    try:
        describe(question, given, shop, book)
    except InputRefused as refused:
        return _drawn(question, shop, given, refused.faults, 422)
    return see(_next(question, shop_now(book).shop))


def _way(shop: Shop) -> list[str]:
    """The questions that follow one another; those that only a job asks stand for themselves."""
    return [one.id for one in list_questions(shop) if not one.later]


def _next(question: ShopQuestion, shop: Shop) -> str:
    """The page of the question after this one; of the whole shop after the last."""
    ids = _way(shop)
    after = ids[ids.index(question.id) + 1 :] if question.id in ids else []
    return f"/shop/{after[0]}" if after else "/shop"


def _drawn(question: ShopQuestion, shop: Shop, given: Given, faults: Sequence[Fault], status: int = 200) -> Response:
    ids = _way(shop)
    number = ids.index(question.id) + 1 if question.id in ids else 0
    sled = shop.sled
    layout = (sled.word("fence"), sled.word("keeper")) if sled is not None else ("", "")
    pictures: dict[str, Drawing] = {}
    for choice in question.choices:
        one, _, other = choice.word.partition(" ")
        if question.id == "sled":
            pictures[choice.word] = sled_picture(one, other)
        elif question.id == "pivot":
            pictures[choice.word] = pivot_picture(one, other, *layout)
    return page(
        "shop_question.html",
        status,
        question=question,
        unit=shop.unit,
        number=number,
        count=len(ids),
        after=_next(question, shop),
        before=f"/shop/{ids[number - 2]}" if number > 1 else "/shop",
        given=given,
        pictures=pictures,
        drawing=None if pictures else shop_drawing(shop, question.id),
        faults=[fault for fault in faults if fault.where not in given],
        beside={key: [fault.text for fault in faults if fault.where == key] for key in given},
    )
