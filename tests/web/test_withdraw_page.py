"""The pages that take back what was typed wrong."""

from __future__ import annotations

import pytest
from tests.web.asking import Inputs, Site
from tests.web.test_pages import is_sound

from trued.usecases.changes.record_move import record_move
from trued.usecases.runs.run_check import run_check
from trued.usecases.standing.feature_history import feature_history

STRIP = ["fence_end=1.0120", "free_end=1.0500", "length=15"]
FENCE = "sled.fence-angle@0"


@pytest.fixture
def slipped(shop: Site) -> Site:
    run_check("five-cut", STRIP, {}, book=shop.book, key="a" * 32, answers=("anew",))
    record_move("fence-angle", "open", "0.2", shop.book, key="b" * 32, answers=("typed",))
    return shop


def test_from_the_list_or_the_history_to_the_button_and_back(slipped: Site) -> None:
    place = f"/withdraw/{'b' * 32}"
    for page in ("/withdraw", f"/standing/{FENCE}"):
        text = slipped.get(page).text
        is_sound(text)
        assert place in {given.get("href") for _, given in Inputs(text).tags}
    asked = slipped.get(place).text
    is_sound(asked)
    assert "open by 0.2" in asked and [line.kind for line in feature_history(FENCE, slipped.book).lines][-1] == "move"
    done = slipped.post(place, [])
    assert done.status_code == 200 and "It counts no more" in done.text
    is_sound(done.text)
    assert [line.kind for line in feature_history(FENCE, slipped.book).lines] == ["finding"]
    assert "taken back already" in slipped.post(place, []).text


def test_an_empty_book_and_a_wrong_address(shop: Site) -> None:
    assert "Nothing is kept yet" in shop.get("/withdraw").text
    assert shop.get("/withdraw/nothing-like-it").status_code in (404, 422)
