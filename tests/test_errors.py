"""Errors: one sentence a fault, the status a script sees, all faults of a form at once."""

import pickle

import pytest

from trued.errors import Asks, BookRefused, Fault, Faults, InputRefused, Question, TruedError


def test_status_is_what_a_script_sees() -> None:
    assert (TruedError.status, InputRefused.status, BookRefused.status) == (70, 2, 3)
    assert issubclass(InputRefused, TruedError) and issubclass(BookRefused, TruedError)


def test_an_error_reads_as_its_sentences_one_a_line() -> None:
    error = InputRefused(Fault("length", "-4", "A length is never below 0."), Fault("", "", "Say which book."))
    assert str(error) == "length “-4”: A length is never below 0.\nSay which book."


def test_of_makes_the_error_with_one_fault() -> None:
    error = BookRefused.of("shop.trued", "9", "This book is newer than the program.")
    assert type(error) is BookRefused
    assert error.faults == (Fault("shop.trued", "9", "This book is newer than the program."),)


def test_a_long_text_is_cut_where_it_is_said_again_but_kept_whole() -> None:
    fault = Fault("", "x" * 61, "Write less.")
    assert str(fault) == f"“{'x' * 59}…”: Write less." and fault.read == "x" * 61


def test_a_fault_is_one_line_and_says_something() -> None:
    assert Fault("a", "x\ny", "It reads\n  x y.").text == "It reads x y."
    with pytest.raises(ValueError, match="sentence"):
        Fault("a", "b", " \n")


def test_an_error_without_a_fault_cannot_be_built() -> None:
    with pytest.raises(ValueError, match="at least one"):
        InputRefused()


def test_an_error_survives_the_way_between_processes() -> None:
    error = InputRefused.of("length", "x", "Write a number.")
    back = pickle.loads(pickle.dumps(error))
    assert type(back) is InputRefused and back.faults == error.faults


ASKED = Question("same-strip", "", "Was the strip cut\n again?", (("again", "Cut again"), ("same", "Read again")))


def test_a_question_is_one_line_with_answers_that_differ() -> None:
    assert (
        ASKED.text == "Was the strip cut again?" and ASKED.means("same") == "Read again" and ASKED.means("no") is None
    )
    for choices in ((), (("a", "x"), ("a", "y")), (("Yes", "x"),), (("two words", "x"),), (("a=b", "x"),)):
        with pytest.raises(ValueError):
            Question("code", "", "text", choices)


def test_what_is_asked_is_an_error_of_status_2_that_says_how_to_answer() -> None:
    error = Asks(ASKED)
    assert (error.status, error.questions) == (2, (ASKED,)) and "again: Cut again." in str(error)
    assert pickle.loads(pickle.dumps(error)).questions == (ASKED,)


def test_a_form_with_three_faults_is_refused_once_with_all_three() -> None:
    faults = Faults()
    faults.add("kerf", "0", "A kerf is above 0.")
    with faults.at('part "shelf"'):
        raise InputRefused(Fault("length", "x", "Write a number."), Fault("", "", "Give a quantity."))
    with pytest.raises(InputRefused) as refused:
        faults.raise_if_any()
    assert [fault.where for fault in refused.value.faults] == ["kerf", 'part "shelf", length', 'part "shelf"']
    assert len(faults) == 3 and tuple(faults) == refused.value.faults


def test_a_form_without_faults_passes() -> None:
    faults = Faults()
    with faults.at("kerf"):
        pass
    faults.raise_if_any()
    assert len(faults) == 0


def test_other_errors_are_not_swallowed() -> None:
    faults = Faults()
    with pytest.raises(BookRefused), faults.at("book"):
        raise BookRefused.of("book", "", "The book is locked.")
    assert not len(faults)
