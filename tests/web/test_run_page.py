"""The page of one run: an order only while it is the latest, and no word or drawing that contradicts it."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

from tests.web.asking import Site, words
from tests.web.test_pages import is_sound

from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.list_checks import one_check

STRIP = ["fence_end=1.0120", "free_end=1.0500", "length=15"]
BEGIN = datetime.now(UTC) - timedelta(hours=5)
ONE, TWO = "a" * 32, "b" * 32


def _twice(shop: Site, id: str, typed: list[str]) -> tuple[str, str]:
    """The page of the first run and of the second, in which nothing was touched."""
    for hours, key in ((0, ONE), (1, TWO)):
        run_check(id, typed, {}, book=shop.book, at=BEGIN + timedelta(hours=hours), key=key, answers=("anew",))
    pages = shop.get(f"/runs/{ONE}").text, shop.get(f"/runs/{TWO}").text
    for page in pages:
        is_sound(page)
    return pages


def test_an_older_run_gives_no_order_and_draws_no_move(shop: Site) -> None:
    older, latest = _twice(shop, "five-cut", STRIP)
    assert 'class="order"' in latest and "d-move" in latest and "I moved it" in latest
    assert 'class="order"' not in older and "d-move" not in older and "I moved it" not in older
    assert "Old run. Don&#39;t act on it." in older.replace("Don't", "Don&#39;t") and "Current status" in older
    assert words(older).count("Turn nothing by this drawing") == 2  # as an image and below it
    assert latest.index("before you reach for the fence") < latest.index("<ol>")  # the warning before the steps


def test_what_is_only_mended_says_how_at_once(shop: Site) -> None:
    """A rip fence that pinches has no screw to turn by a number: what to do stands open, with its cautions."""
    typed = [text for text in one_check("rip-fence").example.given if not text.startswith("--")]
    _, latest = _twice(shop, "rip-fence", typed)
    order = re.search(r'<section class="order".*?</section>', latest, re.DOTALL)
    assert order is not None and "No rip: fence and blade pinch at the back" in order[0]
    assert "WARNING" in order[0] and "never rip with a fence that closes" in words(latest).lower()
    assert "this run found by itself" not in latest


def test_a_size_with_one_way_to_be_out_has_no_sign(shop: Site) -> None:
    run_check("kerf", ["whole=5", "keeper_piece=2.4", "offcut_piece=2.504"], {}, book=shop.book, key=ONE)
    told = words(shop.get(f"/runs/{ONE}").text)
    assert "Kerf 0.096 in, ±0.0" in told  # 5 - 2.4 - 2.504, by hand
    assert "+0.0" not in told


def test_where_the_fixture_is_not_known_a_turn_is_a_slope_and_has_no_left_or_right(empty: Site) -> None:
    """The fence is found out by 0.0380 in over four times 15 in, 0.0076 in/ft; no radius, no layout is in the book."""
    _, latest = _twice(empty, "five-cut", STRIP)
    told = words(latest)
    assert (
        "mrad" not in told
        and "Open the corner at the keeper, 0.00" in told
        and "in/ft" in told.partition("keeper,")[2][:14]
    )
    assert "left end" not in told


def test_beside_stop_nothing_says_how_to_mend(shop: Site) -> None:
    """Proven in, or to be run once more: neither arrow nor words below the drawing say which way to turn."""
    once, stop = _twice(shop, "five-cut", ["fence_end=1.0120", "free_end=1.0122", "length=15"])
    for page in (once, stop):
        assert "To mend it" not in page and "d-move" not in page
    assert (
        "In tolerance. Leave it." in words(stop)
        and 'class="order"' not in stop
        and "Turn nothing by this drawing" in stop
    )


def test_the_joint_of_a_wing_is_ordered_before_its_edge_and_by_name(shop: Site) -> None:
    run_check("wing", one_check("wing").example.given, {}, book=shop.book, key=ONE)
    told = words(shop.get(f"/runs/{ONE}").text)
    joint, _, edge = told.partition("Then Raise the outer edge of the wing")
    assert "Raise the wing" in joint and "0.0112 in" in joint and "0.0367 in" in edge and "UP ·" not in told
    first = words(shop.get("/").text)
    assert "Wing droop (wing)" in first and "touch nothing" not in first
