"""Every page answers, on an empty book and on one with a history, with nothing inline and nothing from outside."""

from __future__ import annotations

import math
import re

import pytest
from tests.web.asking import Inputs, Site, words

from trued.usecases.changes.record_event import list_events
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.list_checks import list_ids, one_check

PAGES = (
    "/",
    "/checks",
    *(f"/checks/{id}" for id in list_ids()),
    "/changed",
    *(f"/changed/{event.kind}" for event in list_events()),
    "/moved",
    "/jobs",
)


def is_sound(page: str) -> None:
    """No style or script inside the page, no address of another site, ids once, every label's field there."""
    seen = Inputs(page)
    for tag, given in seen.tags:
        assert "style" not in given and not any(name.startswith("on") for name in given), (tag, given)
        assert tag != "style" and (tag != "script" or str(given["src"]).split("?")[0] == "/trued.js")
        for name in ("href", "src", "action"):
            address = given.get(name) or "/"
            assert address.startswith(("/", "#", "data:image/svg+xml")) and not address.startswith("//")
    ids = [given["id"] for _, given in seen.tags if given.get("id")]
    assert len(ids) == len(set(ids))
    labels = {given["for"] for tag, given in seen.tags if tag == "label" and given.get("for")}
    assert labels <= set(ids)
    assert len(re.findall(r"<h1\b", page)) == 1
    assert 'type="number"' not in page


@pytest.mark.parametrize("path", PAGES)
def test_a_page_of_an_empty_book(path: str, still_empty: Site) -> None:
    answer = still_empty.get(path)
    assert answer.status_code == 200
    is_sound(answer.text)


@pytest.fixture
def used(shop: Site) -> Site:
    """A shop with a history: two runs that prove the fence out, a kerf, and the saw carried."""
    strip = ["fence_end=1.0120", "free_end=1.0500", "length=15"]
    for key in ("a" * 32, "b" * 32):
        run_check("five-cut", strip, {}, book=shop.book, key=key, answers=("anew",))
    run_check("kerf", ["whole=5", "keeper_piece=2.4", "offcut_piece=2.504"], {}, book=shop.book)
    return shop


def test_the_pages_of_a_book_with_a_history(used: Site) -> None:
    for path in (*PAGES, f"/runs/{'a' * 32}", f"/runs/{'b' * 32}"):
        answer = used.get(path)
        assert answer.status_code == 200, path
        is_sound(answer.text)


@pytest.mark.parametrize("path", ["/nowhere", "/checks/nothing", "/runs/nothing", "/changed/nothing", "/jobs/nothing"])
def test_what_is_not_there_is_said_in_a_sentence(path: str, still_empty: Site) -> None:
    answer = still_empty.get(path)
    assert answer.status_code == 404
    is_sound(answer.text)
    assert "This is not here" in answer.text


def test_can_i_cut(used: Site) -> None:
    """Not yet while the fence is out; after the saw was carried, look again: an old answer does not stand."""
    told = words(used.get("/").text)
    assert "Don't cut yet" in told and "Not checked, and someone can get hurt:" in told
    assert "Adjust fence angle." in told and "safe" not in told.replace("safety", "")
    fence = words(used.get("/standing/sled.fence-angle@0").text)
    assert "Move the left end of the fence away from you" in fence and "WARNING Saw unplugged" in fence
    form = Inputs(used.get("/changed/saw-carried").text)
    assert used.post("/changed/saw-carried", form.pairs).headers["location"] == "/?noted=saw-carried"
    told = words(used.get("/?noted=saw-carried").text)
    assert "Out of tolerance" not in told and "Recheck fence angle" in told
    assert "WARNING Check knife and rip fence toe before any rip." in told


def test_nothing_known_is_nothing_claimed(still_empty: Site) -> None:
    told = words(still_empty.get("/").text)
    assert "Nothing checked yet" in told and "Not checked" in told


def test_a_move_is_kept_once_and_asks_for_the_check(used: Site) -> None:
    """Following the button of a feature's page keeps the move in the advised way and amount."""
    page = used.get("/standing/sled.fence-angle@0").text
    link = re.search(r'href="(/moved\?[^"]+)"', page)
    assert link is not None
    form = Inputs(used.get(link[1].replace("&amp;", "&")).text)
    assert form.value("feature") == "sled.fence-angle@0" and form.value("direction") == "open"
    for _ in range(2):
        assert used.post("/moved", form.pairs).status_code == 303
    told = words(used.get("/?turned=1").text)
    assert "Recorded: your move" in told and "Fence angle" in told
    from trued.usecases.shop.shop_now import opened

    with opened(used.book) as book:
        assert [move.direction for move in book.moves()] == ["open"]


def test_a_move_that_cannot_be_read_says_all_that_is_wrong(shop: Site) -> None:
    answer = shop.post("/moved", [("key", "c" * 32), ("feature", ""), ("direction", ""), ("amount", "")])
    assert answer.status_code == 422
    for text in ("Choose what you moved.", "Choose which way", "Type how far"):
        assert text in answer.text
    pairs = [("key", "c" * 32), ("feature", "sled.fence-angle@0"), ("direction", "open"), ("amount", "1,500")]
    answer = shop.post("/moved", pairs)
    assert answer.status_code == 422 and 'value="1,500"' in answer.text


def test_what_was_turned_is_chosen_before_its_ways_are_asked(shop: Site) -> None:
    """No wall of buttons: first the thing, then its own two ways, named by their part."""
    first = shop.get("/moved").text
    is_sound(first)
    assert 'type="radio"' not in first and 'href="/moved?feature=wing.wing-droop"' in first
    form = shop.get("/moved?feature=wing.wing-droop").text
    is_sound(form)
    assert form.count('type="radio"') == 2 and '<span class="unit">in</span>' in form
    assert "raise the outer edge of the wing" in form and "lower the outer edge of the wing" in form


def test_a_tilt_stop_is_noted_in_degrees(shop: Site) -> None:
    """0.008 in over twice 2.4 in is 0.0955°; 1 / 1.09 of it is ordered: 0.088°, and that is what stands prefilled."""
    run_check("tilt-90", one_check("tilt-90").example.given, {}, book=shop.book, answers=("anew",))
    first = shop.get("/standing/saw.bevel@0").text
    assert "Tilt the top of the blade away from the keeper, 0.088°" in words(first)
    link = re.search(r'href="(/moved\?[^"]+)"', first)
    assert link is not None
    form = Inputs(shop.get(link[1].replace("&amp;", "&")).text)
    assert form.value("amount") == "0.088"
    assert '<span class="unit">°</span>' in shop.get(link[1].replace("&amp;", "&")).text
    assert shop.post("/moved", form.pairs).status_code == 303
    from trued.usecases.shop.shop_now import opened

    with opened(shop.book) as book:
        (move,) = book.moves()
        assert move.amount == pytest.approx(math.radians(0.088)) and move.typed == "0.088deg"


def test_a_book_that_went_away(shop: Site) -> None:
    shop.book.unlink()
    answer = shop.get("/")
    assert answer.status_code == 503 and "The book cannot be used" in answer.text
    is_sound(answer.text)


def test_what_can_hurt_someone_and_was_never_looked_at_stands_first(still_empty: Site, used: Site) -> None:
    for site in (still_empty, used):
        told = words(site.get("/").text)
        begin, end = told.index("someone can get hurt:"), told.index("Something changed")
        names = ("Riving knife", "Insert", "Rip fence", "Blade to slot")
        assert all(begin < told.index(name, begin) < end for name in names)
    assert "Check blade to slot first." in told and "Move the left end" not in told


def test_nothing_found_wrong_is_not_all_while_safety_was_never_looked_at(shop: Site) -> None:
    true = ["fence_end=1.0120", "fence_end=1.0125", "free_end=1.0125", "free_end=1.0120", "length=15"]
    for _ in range(2):
        run_check("five-cut", true, {}, book=shop.book, answers=("anew",))
    told = words(shop.get("/").text)
    assert "Don't cut yet" in told and "someone can get hurt:" in told and "Out of tolerance" not in told
