"""A run in doubt on its page and on the first one: read it again, and nothing by which to turn anything."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from tests.web.asking import Site, words
from tests.web.test_pages import is_sound

from trued.usecases.runs.run_check import run_check

BEGIN = datetime.now(UTC) - timedelta(hours=5)
RUN = "c" * 32
ENDS = ("five-cut", ["fence_end=0.900", "free_end=1.140", "length=12"])
CREEPS = ("stop-repeat", ["set=5", *(f"part={size}" for size in ("5.013", "5.017", "5.020", "5.024", "5.027"))])
FACTS = {"five-cut": {}, "stop-repeat": {}, "insert": {}}
CATCHES = (
    "insert",
    [
        *("low@operator-keeper=0.002", "low@operator-offcut=0.002", "low@far-keeper=-0.001", "low@far-offcut=-0.001"),
        "rock=0",
        "strip=far",
    ],
)


@pytest.mark.parametrize("typed", [ENDS, CREEPS])
def test_it_says_read_it_again_and_turns_nothing(shop: Site, typed: tuple[str, list[str]]) -> None:
    run_check(*typed, FACTS[typed[0]], book=shop.book, at=BEGIN, key=RUN)
    page, first = shop.get(f"/runs/{RUN}").text, shop.get("/").text
    for one in (page, first):
        is_sound(one)
        assert "/moved?" not in one and "I moved it" not in one and "I turned it" not in one and "d-move" not in one
        assert "sure enough" not in words(one)
    told = words(page)
    assert (
        "Bad run. Don" in told
        and "again, same setup" in told
        and "<figure" not in page
        and "It does not count" in told
        and "95 times in 100" not in told
    )
    assert "Bad run. It does not count" in words(first)


def test_the_person_may_let_it_count(shop: Site) -> None:
    run_check(*ENDS, {}, book=shop.book, at=BEGIN, key=RUN)
    sent = shop.post(f"/answer/{RUN}", [("answer", "confirm=yes"), ("back", f"/runs/{RUN}")])
    assert sent.status_code == 303 and sent.headers["location"].endswith(f"/runs/{RUN}")
    page = shop.get(f"/runs/{RUN}").text
    assert "Bad run" not in page and "It does not count" not in page and "/moved?" in page


def test_what_can_hurt_someone_comes_first(shop: Site) -> None:
    """All four corners lie as they should, and yet work catches: that closes the insert, whatever was measured."""
    run_check(*CATCHES, {}, book=shop.book, at=BEGIN, key=RUN)
    page, first = shop.get(f"/runs/{RUN}").text, shop.get("/").text
    for one in (page, first):
        assert 'role="alert"' in one and "warning" in words(one).lower()
    assert page.index('role="alert"') < page.index('class="order"')
    assert "Don't cut yet" in words(first)
