"""Questions: asked before anything is kept, answered by a word, kept with the row; open ones about rows of the book."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.errors import Asks, InputRefused, Question
from trued.usecases.changes import open_questions, record_move
from trued.usecases.changes.answer import answer, confirm
from trued.usecases.changes.undo import last_kept, one_kept, take_back
from trued.usecases.questions.asking import settle
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import ShopNow, opened, shop_now
from trued.usecases.standing.standing import what_stands

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
STRIP = ["fence_end=1.0120", "free_end=1.0500", "length=15"]
FAR = Question("far", "", "Is that far?", (("yes", "It was turned so far"), ("no", "It was typed wrong")))
OTHER = Question("other", "", "Another?", (("yes", "Yes"), ("maybe", "Perhaps")))
AT = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    return path


@pytest.fixture
def run(book: Path) -> str:
    kept = run_check("five-cut", STRIP, {}, book=book, at=AT).run
    assert kept is not None
    return kept


def test_a_word_answers_what_takes_it_and_what_is_left_is_asked() -> None:
    assert settle((), ["yes"]) == ()
    assert [one.word for one in settle([FAR], ["yes"])] == ["yes"]
    assert [one.word for one in settle([FAR, OTHER], ["yes"])] == ["yes", "yes"]
    assert [one.word for one in settle([FAR, OTHER], ["far=no", "other=yes"])] == ["no", "yes"]
    assert [one.word for one in settle([FAR], ["no", "YES"])] == ["yes"], "the last one counts"
    with pytest.raises(Asks) as asks:
        settle([FAR, OTHER], ["maybe"])
    assert asks.value.questions == (FAR,)
    for given in ([], ["other=yes"]):
        with pytest.raises(Asks):
            settle([FAR], given)


@pytest.mark.parametrize("word", ["perhaps", "far=perhaps", ""])
def test_a_word_that_answers_nothing_is_refused_with_the_answers(word: str) -> None:
    with pytest.raises(InputRefused, match="the answers are: yes, no"):
        settle([FAR], [word])


def test_a_run_is_confirmed_once_and_the_answer_is_taken_back(book: Path, run: str) -> None:
    first = confirm(run[:8], book)
    assert confirm(run, book).id == first.id and answer(run[:6], "yes", book).id == first.id
    assert shop_now(book).history.answer(run, "confirm") == "yes"
    assert last_kept(book)[0].kind == "answer" and one_kept(first.id[:8], book).text == "confirm: yes"
    take_back(first.id[:8], book)
    assert shop_now(book).history.answer(run, "confirm") is None
    assert confirm(run, book).id != first.id


def test_only_a_run_can_be_confirmed_and_only_what_is_asked_be_answered(book: Path, run: str) -> None:
    move = record_move.record_move("fence-angle", "open", "0.0054", book)
    with pytest.raises(InputRefused, match="Only a run"):
        confirm(move.id, book)
    with pytest.raises(InputRefused, match="Nothing is asked about that"):
        answer(move.id, "yes", book)
    with pytest.raises(InputRefused, match="Nothing in force has that id"):
        confirm("ffffffff", book)
    take_back(run, book)
    with pytest.raises(InputRefused, match="Nothing in force has that id"):
        confirm(run, book)


def test_what_the_rows_leave_to_ask_is_asked_until_it_is_answered(
    book: Path, run: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = Question("touched", run, "Did you turn the screw?", (("yes", "I turned it"), ("no", "I did not")))

    def source(now: ShopNow) -> list[Question]:
        return [asked for row in now.history.observed if row.run == run]

    monkeypatch.setattr(open_questions, "SOURCES", (source,))
    assert what_stands(book).questions == (asked,)
    with pytest.raises(InputRefused, match="the answers are: yes, no"):
        answer(run, "perhaps", book)
    with pytest.raises(InputRefused, match="touched=yes or confirm=yes"):
        answer(run, "yes", book)
    view = answer(run[:8], "touched=yes", book)
    assert (view.means, what_stands(book).questions) == ("I turned it", ())
    take_back(view.id, book)
    assert what_stands(book).questions == (asked,)


def test_a_state_kept_for_speed_knows_of_the_answers_until_its_moment(book: Path, run: str) -> None:
    """Looked at as it stood before the answer, and now, the same book gives either, in whichever order it is asked."""
    for n in range(1, 50):
        typed = (f"fence_end={1.012 + n / 1000:.4f}", f"free_end={1.05 + n / 1000:.4f}", "length=15")
        run_check("five-cut", typed, {}, book=book, at=AT + timedelta(minutes=20 * n))
    with opened(book) as kept:
        states = kept.rows()["filter_cache"]
    assert states > 0, "else nothing was kept for speed"
    answered = confirm(run, book, at=AT + timedelta(days=2))
    with opened(book) as kept:
        assert kept.rows()["filter_cache"] == 0
    before, after = AT + timedelta(days=1), AT + timedelta(days=3)
    for _ in range(2):
        assert shop_now(book, before).history.answered == ()
        assert [row.id for row in shop_now(book, after).history.answered] == [answered.id]
