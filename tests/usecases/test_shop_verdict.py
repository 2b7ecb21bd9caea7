"""One function says whether one can cut; page, terminal and library say it in the same words."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from tests.web.asking import Site, words

import trued
from trued.cli.commands.status import told
from trued.errors import Question
from trued.usecases.changes.record_event import record_event
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.standing.shop_verdict import shop_verdict
from trued.usecases.standing.standing import StandingView, what_stands

ROOT = Path(__file__).parents[2]
NOW = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)
LOOK = NOW + timedelta(hours=4)
TRUE = ["fence_end=1.0120", "fence_end=1.0125", "free_end=1.0125", "free_end=1.0120", "length=15"]
OUT = ["fence_end=0.500", "free_end=0.538", "length=9.5"]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book of the example shop."""
    path = tmp_path / "shop.trued"
    describe_shop(ROOT / "examples" / "shop.toml", path)
    return path


def found(book: Path, readings: list[str], times: int = 2) -> None:
    for hour in range(times):
        run_check("five-cut", readings, {}, book=book, at=NOW + timedelta(hours=hour), answers=("anew",))


def without_danger(view: StandingView) -> StandingView:
    """The same shop, had all its matters of safety been looked at and found right."""
    return replace(view, never=tuple(check for check in view.never if not check.safety))


def test_an_empty_book_claims_nothing(book: Path) -> None:
    verdict = shop_verdict(what_stands(book, at=LOOK))
    assert verdict.code == "nothing-known" and verdict.told == "Start with blade to slot."


def test_what_can_hurt_and_was_never_looked_at_comes_before_a_true_fence(book: Path) -> None:
    found(book, TRUE)
    verdict = shop_verdict(what_stands(book, at=LOOK))
    assert verdict.code == "not-yet"
    assert verdict.told.startswith("Check ") and verdict.told.endswith(": someone can get hurt.")
    assert all(name in verdict.told for name in ("riving knife", "rip fence", "blade to slot"))


def test_danger_is_told_before_what_is_merely_out(book: Path) -> None:
    found(book, OUT)
    told_of = shop_verdict(what_stands(book, at=LOOK)).told
    assert 0 <= told_of.index("someone can get hurt") < told_of.index("Adjust fence angle.")


def test_without_danger_out_then_looked_at_again_then_known(book: Path) -> None:
    found(book, OUT)
    view = without_danger(what_stands(book, at=LOOK))
    assert shop_verdict(view).code == "not-yet" and shop_verdict(view).headline == "Adjust first"
    record_event("saw-carried", "", book, at=NOW + timedelta(hours=3))
    assert shop_verdict(without_danger(what_stands(book, at=LOOK))).code == "look-again"


def test_nothing_found_wrong_is_told_with_what_stays_open(book: Path) -> None:
    found(book, TRUE, times=1)
    assert shop_verdict(without_danger(what_stands(book, at=LOOK))).code == "cannot-tell"
    run_check("five-cut", TRUE, {}, book=book, at=NOW + timedelta(hours=1), answers=("anew",))
    view = without_danger(what_stands(book, at=LOOK))
    verdict = shop_verdict(view)
    assert verdict.code == "no-problem" and verdict.headline == "Not everything is checked"
    asked = replace(view, questions=(Question("slip", "a" * 32, "Was it?", (("yes", "Yes"), ("no", "No"))),))
    assert shop_verdict(asked).code == "cannot-tell" and shop_verdict(asked).headline == "Answer first"


@pytest.mark.parametrize("readings", [[], TRUE, OUT], ids=["empty", "true", "out"])
def test_page_terminal_and_library_say_the_same(book: Path, readings: list[str]) -> None:
    if readings:
        found(book, readings)
    view = trued.open_book(book).standing()
    verdict = trued.open_book(book).verdict()
    terminal, page = " ".join(told(view).split()), words(Site.of(book).get("/").text)
    assert f": {verdict.headline.upper()}." in terminal and verdict.headline in page
    unsafe = [one for one in view.never if one.safety]
    assert unsafe and "someone can get hurt" in terminal and "someone can get hurt" in page
    assert all(one.check in terminal and one.title.partition(":")[0] in page for one in unsafe)
    assert ("Adjust fence angle." in terminal) is ("Adjust fence angle." in page) is (readings == OUT)
    assert "safe " not in f"{verdict.headline} {verdict.told}"
