"""The page of one feature's history: every row, what was set aside and why, and a sentence where there is none."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from tests.web.asking import Inputs, Site, words
from tests.web.test_pages import is_sound

from trued.store.ids import new_id
from trued.store.rows import EventRow
from trued.usecases.changes.record_event import record_event
from trued.usecases.changes.record_move import record_move
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.shop_now import opened
from trued.web.pages.history import SHOWN

FENCE = "/standing/sled.fence-angle@0"
STRIP = ["fence_end=1.0120", "free_end=1.0500", "length=15"]
BEGIN = datetime.now(UTC) - timedelta(days=1)


@pytest.fixture
def used(shop: Site) -> Site:
    """A fence that was found out, turned, and found again; then the saw was carried."""
    run_check("five-cut", STRIP, {}, book=shop.book, at=BEGIN, key="a" * 32, answers=("anew",))
    record_move("fence-angle", "open", "0.0100", shop.book, at=BEGIN + timedelta(hours=1))
    again = ["fence_end=1.0120", "free_end=1.0190", "length=15"]
    run_check("five-cut", again, {}, book=shop.book, at=BEGIN + timedelta(hours=2), key="b" * 32, answers=("anew",))
    record_event("saw-carried", "", shop.book, at=BEGIN + timedelta(hours=3))
    return shop


def test_each_feature_of_the_standing_page_leads_to_its_history(used: Site) -> None:
    links = {given["href"] for _, given in Inputs(used.get("/").text).tags if "/standing/" in (given.get("href") or "")}
    assert links == {"/standing/sled.fence-angle%400"}
    for link in links:
        assert link is not None and used.get(link).status_code == 200


def test_everything_is_told_the_newest_first(used: Site) -> None:
    page = used.get(FENCE)
    assert page.status_code == 200
    is_sound(page.text)
    told = words(page.text).partition(" History ")[2]
    order = [told.index(text) for text in ("Happened", "free end: 1.0190", "Turned", "free end: 1.0500")]
    assert order == sorted(order)
    assert f"/runs/{'a' * 32}" in page.text and f"/runs/{'b' * 32}" in page.text
    whole = words(page.text)
    assert "Saw moved, dropped" in whole and "run five-cut" in whole


def test_the_drawing_says_the_same_in_words(used: Site) -> None:
    page = used.get(FENCE).text
    assert 'role="img"' in page and "<title" in page
    said = re.search(r"<desc[^>]*>([^<]*)</desc>", page)
    assert said is not None and "2 findings, 1 move and 1 event" in said[1]
    assert page.count("2 findings, 1 move and 1 event") == 2  # also below it, for everyone


def test_what_was_set_aside_says_why(shop: Site) -> None:
    for n in range(10):
        typed = ["fence_end=1.0120", f"free_end=1.01{20 + n % 3}", "length=15"]
        run_check("five-cut", typed, {}, book=shop.book, at=BEGIN + timedelta(hours=n), answers=("anew",))
    run_check("five-cut", STRIP, {}, book=shop.book, at=BEGIN + timedelta(hours=11), answers=("anew",))
    told = words(shop.get(FENCE).text)
    assert "disagrees with earlier runs." in told
    assert told.count("Set aside") == 1 and "Not counted" in told and "stays in the book" in told
    assert "individuals chart" in told  # the control chart sees it too


def test_a_true_fence_says_when_to_look_again(shop: Site) -> None:
    true = ["fence_end=1.0120", "fence_end=1.0125", "free_end=1.0125", "free_end=1.0120", "length=15"]
    for n in range(2):
        run_check("five-cut", true, {}, book=shop.book, at=BEGIN + timedelta(hours=n), answers=("anew",))
    told = words(shop.get(FENCE).text)
    assert "In tolerance" in told and "sessions" in told
    assert "Saw moved, dropped" in told


def test_no_history_gives_a_sentence(still_empty: Site) -> None:
    for path in (FENCE, "/standing/fence-angle", "/standing/blade.kerf"):
        page = still_empty.get(path)
        assert page.status_code == 200
        is_sound(page.text)
        assert "Nothing was found here yet, so nothing is claimed." in words(page.text) and "<svg" not in page.text


@pytest.mark.parametrize("name", ["nothing", "sled.nothing@0", "other.fence-angle@0", "%3Cb%3E", "box-square"])
def test_a_name_that_is_none_is_refused_in_a_sentence(name: str, still_empty: Site) -> None:
    page = still_empty.get(f"/standing/{name}")
    assert page.status_code == 404
    is_sound(page.text)


def test_a_long_history_has_pages(shop: Site) -> None:
    run_check("five-cut", STRIP, {}, book=shop.book, at=BEGIN, answers=("anew",))
    with opened(shop.book) as book:
        for n in range(SHOWN + 4):
            book.add_event(EventRow(new_id(), "saw-carried", BEGIN + timedelta(minutes=n + 1)))
    first, second = shop.get(FENCE).text, shop.get(f"{FENCE}?part=1").text
    assert first.count("Happened") == SHOWN and second.count("Happened") == 4 and "free end" in second
    assert 'href="?part=1"' in first and 'href="?part=0"' in second
    is_sound(first.replace('href="?', 'href="/?'))
    for odd in ("part=-1", "part=99999999999", "part=99"):
        assert shop.get(f"{FENCE}?{odd}").status_code == 200


def test_it_is_printed(used: Site, still_empty: Site) -> None:
    answer = used.get(f"{FENCE}/sheet.pdf")
    assert "sled-fence-angle-0-history.pdf" in answer.headers["content-disposition"]
    assert answer.headers["content-type"] == "application/pdf" and answer.content.startswith(b"%PDF-")
    assert still_empty.get(f"{FENCE}/sheet.pdf").status_code == 404
