"""Answers: rows like the others, whole with every part of a history; and what came first at one moment."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tests.store.samples import a_move, a_run, an_answer, an_event, id_of, minute

from trued.errors import InputRefused
from trued.store.book import Book
from trued.store.opening import open_book
from trued.store.rows import StateRow

OLD = Path(__file__).parent.parent / "data" / "books" / "version-1.trued"


def test_an_answer_is_kept_once_corrected_and_taken_back(book: Book) -> None:
    first = an_answer("one", 1, "run")
    assert book.add_answer(first) and not book.add_answer(first)
    with pytest.raises(InputRefused, match="Another row of this id"):
        book.add_answer(an_answer("one", 1, "run", word="no"))
    better = an_answer("two", 2, "run", word="no", supersedes=first.id)
    book.add_answer(better)
    assert book.answers() == (better,) and book.answers(until=minute(1)) == ()
    book.add_answer(an_answer("back", 3, "run", supersedes=better.id, withdrawn=True))
    assert book.answers() == ()


def test_answers_come_whole_with_a_part_of_a_history(book: Book) -> None:
    book.add_run(a_run("old", 1))
    book.add_run(a_run("new", 9))
    early, late = an_answer("early", 2, "old"), an_answer("late", 20, "old")
    book.add_answer(early)
    book.add_answer(late)
    assert book.history(since=minute(5)).answers == (early, late)
    assert book.history(until=minute(5)).answers == (early,)
    assert book.history(until=minute(5), answers_until=minute(30)).answers == (early, late)


def test_every_standing_kept_for_speed_goes_with_an_answer(book: Book) -> None:
    book.keep_state(StateRow("sled.fence-angle@0", minute(1), id_of("x"), "{}"))
    book.add_answer(an_answer("one", 30, "run"))
    assert book.state("sled.fence-angle@0") is None


def test_of_one_moment_the_arrival_tells_what_came_first(book: Book) -> None:
    book.add_run(a_run("found", 5))
    book.add_move(a_move("moved", 5))
    book.add_event(an_event("carried", 5))
    book.add_event(an_event("alone", 6))
    arrived = book.history().arrived
    assert sorted(arrived, key=arrived.__getitem__) == [id_of("found"), id_of("moved"), id_of("carried")]


def test_a_correction_keeps_the_place_of_what_it_corrects(book: Book) -> None:
    book.add_run(a_run("found", 5))
    book.add_move(a_move("moved", 5))
    book.add_run(a_run("better", 5, supersedes=id_of("found")))
    arrived = book.history().arrived
    assert arrived[id_of("better")] < arrived[id_of("moved")]


def test_of_rows_from_before_nothing_is_said(tmp_path: Path) -> None:
    """Each kind was counted for itself then: run 2 and move 1 do not say which came first."""
    path = tmp_path / "shop.trued"
    shutil.copy(OLD, path)
    with open_book(path) as book:
        book.add_event(an_event("now", 10))  # the same moment as the move that is in it
        book.add_event(an_event("too", 10))
        assert set(book.history().arrived) == {id_of("now"), id_of("too")}
