"""Moves and events: kept once, corrected by later rows, read in the order in which they happened."""

import pytest
from tests.store.samples import a_move, a_run, an_event, id_of, minute, readings_of

from trued.errors import InputRefused
from trued.store.book import Book


def test_moves_and_events_come_back_in_the_order_of_their_time(book: Book) -> None:
    late, early = a_move("late", 9), a_move("early", 1)
    assert book.add_move(late) and book.add_move(early)
    carried, other = an_event("carried", 5, subject="saw"), an_event("dropped", 2, "caliper-dropped")
    assert book.add_event(carried) and book.add_event(other)
    assert book.moves() == (early, late)
    assert book.events() == (other, carried)
    assert book.moves(until=minute(1)) == (early,)
    assert book.events(until=minute(2)) == (other,)


def test_a_second_delivery_changes_nothing(book: Book) -> None:
    assert book.add_move(a_move("one")) and not book.add_move(a_move("one"))
    assert book.add_event(an_event("one")) and not book.add_event(an_event("one"))
    assert (book.rows()["move"], book.rows()["event"]) == (1, 1)


def test_another_move_under_the_same_id_is_refused(book: Book) -> None:
    book.add_move(a_move("one"))
    with pytest.raises(InputRefused, match="Another row of this id"):
        book.add_move(a_move("one", amount=0.0004))


def test_a_move_is_corrected_and_an_event_taken_back(book: Book) -> None:
    book.add_move(a_move("one"))
    better = a_move("better", amount=0.0002, supersedes=id_of("one"))
    book.add_move(better)
    book.add_event(an_event("slip"))
    book.add_event(an_event("back", supersedes=id_of("slip"), withdrawn=True))
    assert (book.moves(), book.events()) == ((better,), ())


def test_moves_of_one_feature(book: Book) -> None:
    book.add_move(a_move("one"))
    assert len(book.moves(feature="sled.fence-angle@0")) == 1
    assert book.moves(feature="sled.stop-offset@0") == ()


def test_the_history_holds_all_of_it_up_to_a_moment(book: Book) -> None:
    run = a_run("one", 3)
    book.add_run(run, readings_of(run, "10"))
    move, event = a_move("one", 4), an_event("one", 5)
    book.add_move(move)
    book.add_event(event)
    history = book.history()
    assert ([stored.run for stored in history.runs], history.moves, history.events) == ([run], (move,), (event,))
    before = book.history(until=minute(3))
    assert (len(before.runs), before.moves, before.events) == (1, (), ())


def test_text_that_cannot_be_kept_is_refused_in_words(book: Book) -> None:
    with pytest.raises(InputRefused, match="characters that cannot be kept"):
        book.add_event(an_event("odd", subject="saw\udcff"))
    assert book.events() == ()
