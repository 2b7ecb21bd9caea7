"""A standing kept for speed goes as soon as a row comes that it should have known of."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from tests.store.samples import SHOP, a_move, a_run, an_answer, an_event, id_of, minute, readings_of

from trued.store.book import Book
from trued.store.rows import StateRow

FEATURE = "sled.fence-angle@0"


def state(at: float) -> StateRow:
    return StateRow(FEATURE, minute(at), id_of(f"row {at}"), f'{{"x": {at}}}')


def later_run(book: Book) -> None:
    book.add_run(a_run("new", 20), ())


def late_run(book: Book) -> None:
    book.add_run(a_run("new", 5), ())


def correction(book: Book) -> None:
    """Its own time is late, but it changes what was known from minute 2 on."""
    book.add_run(a_run("new", 20, supersedes=id_of("first")), ())


def corrected_reading(book: Book) -> None:
    (first,) = readings_of(a_run("first", 2), "10")
    book.correct_reading(replace(first, id=id_of("better"), typed="11", supersedes=first.id, taken=minute(20)))


def late_move(book: Book) -> None:
    book.add_move(a_move("new", 5))


def late_event(book: Book) -> None:
    book.add_event(an_event("new", 10))


def an_answer_comes(book: Book) -> None:
    book.add_answer(an_answer("new", 50, "first"))


def new_shop(book: Book) -> None:
    book.save_shop(SHOP)


def same_run(book: Book) -> None:
    book.add_run(a_run("first", 2), readings_of(a_run("first", 2), "10"))


@pytest.mark.parametrize(
    ("happens", "left"),
    [
        (later_run, 10),
        (same_run, 10),
        (late_run, 3),
        (late_move, 3),
        (late_event, 3),
        (an_answer_comes, None),
        (correction, None),
        (corrected_reading, None),
        (new_shop, None),
    ],
)
def test_what_a_new_row_leaves(book: Book, happens: Callable[[Book], None], left: float | None) -> None:
    run = a_run("first", 2)
    book.add_run(run, readings_of(run, "10"))
    book.keep_state(state(3))
    book.keep_state(state(10))
    happens(book)
    assert book.state(FEATURE) == (None if left is None else state(left))


def test_a_state_is_kept_in_place_of_the_older_one(book: Book) -> None:
    book.keep_state(state(3))
    newer = replace(state(3), json='{"x": 4}')
    book.keep_state(newer)
    assert book.state(FEATURE) == newer
    assert book.state("blade.kerf") is None
