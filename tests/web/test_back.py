"""The browser goes back, and the same form is sent with something else in it: nothing typed is thrown away."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.web.asking import Inputs, Pairs, Site, words
from tests.web.test_pages import is_sound

from trued.usecases.saved.saved_plan import list_plans
from trued.usecases.shop.shop_now import opened, shop_now

JOB = (Path(__file__).parents[2] / "examples" / "rack.toml").read_text(encoding="utf-8")
FENCE = "sled.fence-angle@0"


def with_more(page: str, *typed: tuple[str, str]) -> list[tuple[str, str]]:
    """The form as it came, with these fields filled in."""
    given = dict(typed)
    kept = [pair for pair in Inputs(page).pairs if pair[0] not in given]
    return [*kept, *typed]


def asked(site: Site, path: str, pairs: Pairs) -> str:
    answer = site.post(path, pairs)
    assert answer.status_code == 409, words(answer.text)
    is_sound(answer.text)
    assert "Nothing is kept yet" in answer.text
    return answer.text


def answered(site: Site, path: str, page: str, word: str) -> str:
    sent = site.post(path, [*Inputs(page).pairs, ("answer", f"form-again={word}")])
    assert sent.status_code == 303, words(sent.text)
    return sent.headers["location"]


@pytest.mark.parametrize(("word", "left"), [("another", 2), ("instead", 1)])
def test_a_second_move_after_back(shop: Site, word: str, left: int) -> None:
    form = shop.get(f"/moved?feature={FENCE}").text
    first = with_more(form, ("direction", "open"), ("amount", "0.0054"))
    for _ in range(2):
        assert shop.post("/moved", first).headers["location"] == "/?turned=1"
    page = asked(shop, "/moved", with_more(form, ("direction", "close"), ("amount", "0.0108")))
    assert "open by 0.0054" in words(page)
    answered(shop, "/moved", page, word)
    moved = shop_now(shop.book).history.moved
    assert len(moved) == left and moved[-1].direction == "close"


def test_a_second_event_after_back(shop: Site) -> None:
    """The key of the page of one event came with the page of another."""
    pairs = Inputs(shop.get("/changed/saw-carried").text).pairs
    shop.post("/changed/saw-carried", pairs)
    page = asked(shop, "/changed/blade-thinner", pairs)
    assert answered(shop, "/changed/blade-thinner", page, "another") == "/?noted=blade-thinner"
    assert {row.kind for row in shop_now(shop.book).history.happened} == {"saw-carried", "blade-thinner"}


@pytest.mark.parametrize(("word", "left"), [("another", 2), ("instead", 1)])
def test_other_readings_after_back(shop: Site, word: str, left: int) -> None:
    form = shop.get("/checks/five-cut").text
    typed = (("r.fence_end", "1.0120"), ("r.free_end", "1.0500"), ("r.length", "15"))
    shop.post("/checks/five-cut", with_more(form, *typed))
    page = asked(shop, "/checks/five-cut", with_more(form, *typed[:1], ("r.free_end", "1.0400"), *typed[2:]))
    again = shop.post("/checks/five-cut", [*Inputs(page).pairs, ("change", "1")])
    assert again.status_code == 200 and Inputs(again.text).value("r.free_end") == "1.0400"
    place = answered(shop, "/checks/five-cut", page, word)
    with opened(shop.book) as book:
        runs = book.runs()
        assert len(runs) == left and place in {f"/runs/{stored.run.id}" for stored in runs}
    assert "1.0400" in shop.get(place).text


def test_another_job_and_another_measured_part_after_back(shop: Site) -> None:
    form = shop.get("/jobs").text
    first = shop.post("/jobs", with_more(form, ("text", JOB), ("kerf", ""))).headers["location"]
    other = JOB.replace('name = "Rack between two studs"', 'name = "Another rack"')
    page = asked(shop, "/jobs", with_more(form, ("text", other), ("kerf", "")))
    assert "Rack between two studs, list 1" in words(page)
    second = answered(shop, "/jobs", page, "another")
    assert second != first and {line.name for line in list_plans(shop.book)} == {
        "Rack between two studs",
        "Another rack",
    }

    form = shop.get(f"{first}/measured").text
    place = shop.post(f"{first}/measured", with_more(form, ("m.shelf@1", "13.377"), ("with", "rule-1"))).headers[
        "location"
    ]
    shelf = with_more(form, ("m.shelf@2", "13.375"), ("with", "rule-1"))
    page = asked(shop, f"{first}/measured", shelf)
    other_place = answered(shop, f"{first}/measured", page, "another")
    assert other_place != place and "Shelf 2 length: " in words(shop.get(other_place).text)
    with opened(shop.book) as book:
        assert len(book.runs(check="proof")) == 2


def test_a_job_file_is_not_lost_by_a_question(shop: Site) -> None:
    """A file cannot be sent again by a page; its text can."""
    form = shop.get("/jobs").text
    key = Inputs(form).value("key")
    shop.post("/jobs", with_more(form, ("text", JOB), ("kerf", "")))
    other = JOB.replace('name = "Rack between two studs"', 'name = "From a file"')
    answer = shop.upload("/jobs", {"key": key, "kerf": "", "text": ""}, {"file": ("r.toml", other.encode())})
    assert answer.status_code == 409
    answered(shop, "/jobs", answer.text, "another")
    assert "From a file" in {line.name for line in list_plans(shop.book)}


def test_taken_back_twice_by_the_same_button(shop: Site) -> None:
    form = shop.get(f"/moved?feature={FENCE}").text
    pairs = with_more(form, ("direction", "open"), ("amount", "0.0054"))
    shop.post("/moved", pairs)
    place = f"/withdraw/{Inputs(form).value('key')}"
    button = Inputs(shop.get(place).text).pairs
    for _ in range(2):
        done = shop.post(place, button)
        assert done.status_code == 200 and "It counts no more" in done.text
    assert "You took this back" in asked(shop, "/moved", pairs)
