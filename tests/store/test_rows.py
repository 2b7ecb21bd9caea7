"""A row cannot be built wrong, and a time comes back in UTC."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

import pytest
from sqlalchemy import DateTime, create_engine, insert, select
from sqlalchemy.exc import StatementError
from tests.store.samples import (
    A_CHANGE,
    A_DEVICE,
    A_JOB,
    A_PLAN,
    A_STOCK,
    CAME,
    CUT_WRONG,
    MARKS,
    SKIPPED,
    STATED,
    a_move,
    a_run,
    an_event,
    id_of,
    minute,
    readings_of,
)

from trued.store.book import Book
from trued.store.column_types import UtcTime
from trued.store.ids import id_under, new_id
from trued.store.rows import Size, StateRow
from trued.store.tables import filter_cache, metadata

A_RUN = a_run("one")
(A_READING,) = readings_of(A_RUN, "10")
A_STATE = StateRow("blade.kerf", minute(0), id_of("row"), "{}")
NAIVE = datetime(2026, 3, 2)  # noqa: DTZ001 -- that is what must be refused

WRONG: list[tuple[Callable[[], object], str]] = [
    (lambda: replace(A_RUN, id="one"), "32 hexadecimal digits"),
    (lambda: replace(A_RUN, check=""), "needs check"),
    (lambda: replace(A_RUN, taken=NAIVE), "needs a time zone"),
    (lambda: replace(A_RUN, withdrawn=True), "which one it supersedes"),
    (lambda: replace(A_RUN, supersedes=A_RUN.id), "cannot supersede itself"),
    (lambda: replace(A_READING, typed=""), "needs typed"),
    (lambda: replace(A_READING, seq=-1), "0 or more"),
    (lambda: replace(A_READING, supersedes=A_READING.id), "cannot supersede itself"),
    (lambda: replace(A_READING, exact_mm=(2**63, 1)), "at most 63 bits"),
    (lambda: replace(A_READING, exact_mm=(1, 0)), "at most 63 bits"),
    (lambda: a_move("one", unit="in"), "rad or mm"),
    (lambda: a_move("one", amount=float("nan")), "finite"),
    (lambda: a_move("one", direction=""), "needs direction"),
    (lambda: an_event("one", kind=""), "needs kind"),
    (lambda: replace(A_JOB, text=""), "needs text"),
    (lambda: replace(A_PLAN, json=""), "needs json"),
    (lambda: replace(A_PLAN, frozen=NAIVE), "needs a time zone"),
    (lambda: replace(MARKS[0], what="maybe"), "done, undone, skipped, wrong"),
    (lambda: replace(SKIPPED, reason=None), "has a reason"),
    (lambda: replace(SKIPPED, reason=""), "has a reason"),
    (lambda: replace(MARKS[0], reason="no board left"), "has a reason"),
    (lambda: replace(CUT_WRONG, what="done"), "a size is above 0"),
    (lambda: replace(CUT_WRONG, size_mm=0.0), "a size is above 0"),
    (lambda: replace(CUT_WRONG, size_mm=float("inf")), "a size is above 0"),
    (lambda: replace(STATED[0], chance=1.5), "between 0 and 1"),
    (lambda: replace(CAME[0], stated="x"), "32 hexadecimal digits"),
    (lambda: Size("", (1, 1)), "needs typed"),
    (lambda: replace(A_STOCK, material=""), "needs material"),
    (lambda: replace(A_CHANGE, by=0), "at least one"),
    (lambda: replace(A_DEVICE, key_sha=""), "needs key_sha"),
    (lambda: replace(A_STATE, json=""), "needs json"),
]


@pytest.mark.parametrize(("build", "why"), WRONG, ids=[why for _, why in WRONG])
def test_a_wrong_row_cannot_be_built(build: Callable[[], object], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        build()


def test_ids_are_random_and_those_under_a_parent_are_always_the_same() -> None:
    assert len({new_id() for _ in range(100)}) == 100
    assert id_under(A_RUN.id, "reading 0") == id_under(A_RUN.id, "reading 0")
    assert id_under(A_RUN.id, "reading 0") != id_under(A_RUN.id, "reading 1")
    replace(A_RUN, id=new_id())


def test_a_time_of_any_zone_is_kept_as_the_same_moment(book: Book) -> None:
    there = timezone(timedelta(hours=-7))
    run = replace(A_RUN, taken=datetime(2026, 3, 2, 2, 30, 0, 123456, tzinfo=there))
    book.add_run(run)
    (stored,) = book.runs()
    assert stored.run.taken == run.taken
    assert stored.run.taken.isoformat() == "2026-03-02T09:30:00.123456+00:00"
    assert stored.run.taken.tzinfo is UTC


def test_a_time_without_a_zone_does_not_get_into_a_column() -> None:
    engine = create_engine("sqlite://")
    metadata.create_all(engine, tables=[filter_cache])
    with engine.connect() as connection, pytest.raises(StatementError, match="a time needs its zone"):
        connection.execute(select(filter_cache).where(filter_cache.c.upto == NAIVE))
    assert isinstance(UtcTime().impl_instance, DateTime)
    with engine.connect() as connection, pytest.raises(StatementError, match="a time needs its zone"):
        connection.execute(insert(filter_cache).values(feature="f", upto=NAIVE, upto_id="x", json="{}"))
    engine.dispose()
