"""Jobs, plans, what was told of them, and what came of it."""

from dataclasses import replace

import pytest
from tests.store.samples import (
    A_JOB,
    A_PLAN,
    CAME,
    CUT_WRONG,
    MARKS,
    PROOF,
    SKIPPED,
    STATED,
    a_run,
    fill,
    id_of,
    minute,
    readings_of,
)

from trued.errors import InputRefused
from trued.store.book import Book
from trued.store.rows import CameRow, Told


def test_the_same_text_is_the_same_job(book: Book) -> None:
    assert book.add_job(A_JOB) == A_JOB
    assert book.add_job(replace(A_JOB, id=id_of("again"), made=minute(5))) == A_JOB
    changed = replace(A_JOB, id=id_of("changed"), text='name = "rack"\nunit = "mm"\n', made=minute(6))
    assert book.add_job(changed) == changed
    assert book.jobs(name="rack") == (A_JOB, changed)
    assert book.jobs(name="box") == ()
    assert len(book.jobs()) == 2


def test_a_plan_is_kept_with_every_chance_that_it_told(book: Book) -> None:
    book.add_job(A_JOB)
    assert book.add_plan(A_PLAN, STATED)
    assert not book.add_plan(A_PLAN, STATED)
    assert book.plans(job=A_JOB.id) == book.plans() == (A_PLAN,)
    assert book.told() == tuple(Told(stated, None) for stated in sorted(STATED, key=lambda row: row.id))


def test_a_plan_of_no_job_is_refused_with_its_chances(book: Book) -> None:
    with pytest.raises(InputRefused, match="not in the book"):
        book.add_plan(A_PLAN, STATED)
    assert (book.plans(), book.told()) == ((), ())


def test_what_came_is_told_beside_the_chance_and_the_last_measurement_counts(book: Book) -> None:
    fill(book)
    assert {told.stated.fit: told.fitted for told in book.told()} == {"shelf-in-dados": True, "whole job": None}
    again = a_run("proof again", 60)
    book.add_proof(
        again, readings_of(again, "14"), [CameRow(id_of("came 2"), STATED[0].id, again.id, False, minute(60))]
    )
    assert {told.stated.fit: told.fitted for told in book.told(plan=A_PLAN.id)}["shelf-in-dados"] is False
    assert book.told(plan=id_of("another")) == ()


def test_a_proof_delivered_twice_counts_once(book: Book) -> None:
    fill(book)
    before = book.rows()
    assert not book.add_proof(PROOF, readings_of(PROOF, "13"), CAME)
    assert book.rows() == before


def test_a_plan_freezes_once(book: Book) -> None:
    book.add_job(A_JOB)
    book.add_plan(A_PLAN)
    book.freeze_plan(A_PLAN.id, minute(2))
    book.freeze_plan(A_PLAN.id, minute(9))
    assert book.plans()[0].frozen == minute(2)
    with pytest.raises(InputRefused, match="no such plan"):
        book.freeze_plan(id_of("another"), minute(3))


def test_of_each_ticket_the_last_mark_counts(book: Book) -> None:
    book.add_job(A_JOB)
    book.add_plan(A_PLAN)
    book.add_marks(MARKS)
    assert book.done(A_PLAN.id) == ("T2", "T3")
    assert book.done(id_of("another")) == ()


def test_a_ticket_is_done_skipped_wrong_or_open_again(book: Book) -> None:
    book.add_job(A_JOB)
    book.add_plan(A_PLAN)
    book.add_marks((*MARKS, SKIPPED, CUT_WRONG))
    assert book.marks(A_PLAN.id) == (MARKS[1], MARKS[3], SKIPPED, CUT_WRONG)
    book.add_marks([replace(MARKS[2], id=id_of("back"), ticket="T4"), replace(MARKS[2], id=id_of("too"), ticket="T5")])
    assert book.marks(A_PLAN.id) == (MARKS[1], MARKS[3])
    book.add_marks([replace(CUT_WRONG, id=id_of("done, then seen"), ticket="T3", size_mm=None)])
    assert book.done(A_PLAN.id) == ("T2",)
