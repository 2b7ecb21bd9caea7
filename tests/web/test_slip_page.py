"""A slip on the pages: asked on the run's page and the first one, a button an answer; at entry before it is kept."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from tests.web.asking import Inputs, Site, words
from tests.web.test_pages import is_sound

from trued.usecases.changes.record_move import record_move
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.shop_now import opened

BEGIN = datetime.now(UTC) - timedelta(hours=5)
RUN = "b" * 32


def strip(taper: float) -> list[str]:
    return ["fence_end=1.0120", f"free_end={1.012 + taper:.4f}", "length=12"]


def slipped(shop: Site) -> None:
    """Turned the other way than was recorded."""
    run_check("five-cut", strip(0.096), {}, book=shop.book, at=BEGIN, key="a" * 32)
    record_move("fence-angle", "open", "0.033", shop.book, at=BEGIN + timedelta(minutes=20))
    run_check("five-cut", strip(0.186), {}, book=shop.book, at=BEGIN + timedelta(minutes=40), key=RUN)


def test_the_run_asks_orders_nothing_and_is_mended_by_one_button(shop: Site) -> None:
    slipped(shop)
    page = shop.get(f"/runs/{RUN}").text
    is_sound(page)
    assert "Not known yet. Don" in words(page) and "I moved it" not in page and 'class="huge' not in page
    assert 'value="slip=other-way"' in page and f'action="/answer/{RUN}"' in page
    assert 'value="slip=other-way"' in shop.get("/").text
    done = shop.post(f"/answer/{RUN}", [("answer", "slip=other-way"), ("back", f"/runs/{RUN}")])
    assert done.status_code == 303
    after = shop.get(f"/runs/{RUN}").text
    assert "slip=" not in after and 'class="huge' in after
    with opened(shop.book) as book:
        (move,) = book.moves()
    assert move.direction == "close"


def test_a_move_far_from_what_was_told_is_asked_on_its_form(shop: Site) -> None:
    run_check("five-cut", strip(0.096), {}, book=shop.book, at=BEGIN, key="a" * 32)
    form = Inputs(shop.get("/moved?feature=sled.fence-angle@0&direction=open&amount=0.33").text)
    asked = shop.post("/moved", form.pairs)
    assert asked.status_code == 409 and "You were told to" in words(asked.text)
    is_sound(asked.text)
    again = [pair for pair in Inputs(asked.text).pairs if pair[0] not in ("change", "answer")]
    for _ in range(2):  # a finger that taps twice is one move
        assert shop.post("/moved", [*again, ("answer", "move-unlike-told=told")]).status_code == 303
    with opened(shop.book) as book:
        (move,) = book.moves()
    assert move.amount < 0.0025


def test_one_strip_typed_twice_is_asked_on_the_form_of_the_check(shop: Site) -> None:
    def filled() -> list[tuple[str, str]]:
        typed = {"r.fence_end": ["1.0120"], "r.free_end": ["1.0125"], "r.length": ["12"]}
        return Inputs(shop.get("/checks/five-cut").text).filled(typed)

    first = shop.post("/checks/five-cut", filled()).headers["location"]
    asked = shop.post("/checks/five-cut", filled())
    assert asked.status_code == 409 and "same one read again" in words(asked.text)
    again = [pair for pair in Inputs(asked.text).pairs if pair[0] not in ("change", "answer")]
    assert shop.post("/checks/five-cut", [*again, ("answer", "same-strip=same")]).headers["location"] == first
    with opened(shop.book) as book:
        (run,) = book.runs()
    assert len(run.readings) == 6
