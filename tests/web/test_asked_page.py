"""A question on the pages: one button a choice, and nothing that was typed is lost."""

from __future__ import annotations

import pytest
from tests.web.asking import Inputs, Site
from tests.web.test_pages import is_sound

from trued.errors import Question
from trued.usecases.changes import open_questions, record_move
from trued.usecases.questions.asking import settle
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.shop_now import shop_now

ASKED = Question("far", "", "Was it <so> far?", (("yes", "Yes, so far"), ("no", "No")))
STRIP = ["fence_end=1.0120", "free_end=1.0500", "length=15"]
TYPED = [("feature", "sled.fence-angle@0"), ("direction", "open"), ("amount", "0.0054")]


@pytest.fixture
def asking(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(record_move, "settle", lambda questions, given: settle([*questions, ASKED], given))


def buttons(page: str, name: str) -> list[str]:
    return [given.get("value") or "" for tag, given in Inputs(page).tags if tag == "button" and given["name"] == name]


@pytest.mark.usefixtures("asking")
def test_asked_with_all_that_was_typed_and_kept_when_answered(shop: Site) -> None:
    form = shop.get("/moved?feature=sled.fence-angle@0").text
    key = Inputs(form).value("key")
    asked = shop.post("/moved", [("key", key), *TYPED])
    is_sound(asked.text)
    assert asked.status_code == 409 and "Was it &lt;so&gt; far?" in asked.text
    assert Inputs(asked.text).pairs == [("key", key), *TYPED]
    assert buttons(asked.text, "answer") == ["far=yes", "far=no"]
    assert shop_now(shop.book).history.moved == ()
    again = shop.post("/moved", [*Inputs(asked.text).pairs, ("change", "1")])
    assert again.status_code == 200 and Inputs(again.text).value("amount") == "0.0054"
    assert shop.post("/moved", [*Inputs(asked.text).pairs, ("answer", "far=no")]).status_code == 303
    history = shop_now(shop.book).history
    assert [row.id for row in history.moved] == [key] and history.answer(key, "far") == "no"


def test_what_is_open_stands_on_the_first_page(shop: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    run = run_check("five-cut", STRIP, {}, book=shop.book).run
    assert run is not None
    asked = Question("touched", run, "Did you turn it?", (("turned", "I did"), ("left", "I did not")))
    monkeypatch.setattr(open_questions, "SOURCES", (lambda _: [asked],))
    first = shop.get("/").text
    is_sound(first)
    assert "Did you turn it?" in first and buttons(first, "answer") == ["touched=turned", "touched=left"]
    sent = shop.post(f"/answer/{run}", [("back", "/"), ("answer", "touched=left")])
    assert (sent.status_code, sent.headers["location"]) == (303, "/")
    assert "Did you turn it?" not in shop.get("/").text
    confirmed = shop.post(f"/answer/{run}", [("back", f"/runs/{run}"), ("answer", "confirm=yes")])
    assert confirmed.headers["location"] == f"/runs/{run}"
    assert (
        shop.post(f"/answer/{run}", [("back", "//else.where/runs/"), ("answer", "confirm=yes")]).headers["location"]
        == "/"
    )
    assert shop.post(f"/answer/{run}", [("answer", "nonsense")]).status_code == 404
