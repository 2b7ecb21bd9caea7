"""Whatever fails after a row was kept names the row; *nothing was kept* is said only when that is so."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from tests.cli.calling import STRIP, Call
from tests.web.asking import Inputs, Site, words

from trued.errors import kept_all_the_same, one_action, was_kept
from trued.store.book import Book
from trued.store.file.refusals import refusals
from trued.usecases.shop.shop_now import opened

CHECK = ("check", "five-cut", *STRIP, "--fence", "far", "--keeper", "left", "--book")


def full(*_: object, **__: object) -> None:
    """The disk is full from now on, as the database says it."""
    error = sqlite3.OperationalError("database or disk is full")
    error.sqlite_errorcode = sqlite3.SQLITE_FULL
    with refusals(Path("shop.trued")):
        raise error


def broken(*_: object, **__: object) -> None:
    raise ZeroDivisionError("nought")


@pytest.mark.parametrize("form", [[], ["--json"]], ids=["words", "json"])
@pytest.mark.parametrize(("fails", "status"), [(full, 74), (broken, 70)], ids=["disk", "fault"])
def test_a_failure_after_the_run_was_kept(
    trued: Call,
    book: Path,
    monkeypatch: pytest.MonkeyPatch,
    fails: object,
    status: int,
    form: list[str],
    tmp_path: Path,
) -> None:
    """The run is kept first; then what it teaches is worked out, which reads the book again."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    add = Book.add_run

    def and_then(self: Book, *given: object) -> bool:
        added = add(self, *given)  # type: ignore[arg-type]
        monkeypatch.setattr(Book, "history", fails)
        return added

    monkeypatch.setattr(Book, "add_run", and_then)
    said = trued(*CHECK, book, *form)
    monkeypatch.undo()
    with opened(book) as kept:
        (run,) = kept.runs()
    told = said.err + said.out
    assert said.status == status and f"run {run.run.id} was kept: do not enter it again" in told
    assert "othing of this was kept" not in told and "then do it again" not in told and "Traceback" not in told


@pytest.mark.parametrize(
    ("fails", "said"), [(full, "nothing of this was kept"), (broken, "whether your entry is kept")]
)
def test_a_failure_before_it(
    trued: Call, book: Path, monkeypatch: pytest.MonkeyPatch, fails: object, said: str, tmp_path: Path
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.setattr(Book, "add_run", fails)
    told = trued(*CHECK, book)
    assert said in told.err and "do not enter it again" not in told.err


def test_an_interrupt_after_it(trued: Call, book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("trued.cli.commands.event.told", stop)
    said = trued("event", "saw-carried", "--book", book)
    with opened(book) as kept:
        (event,) = kept.events()
    assert said.status == 130 and f"event {event.id} was kept" in said.err


@pytest.mark.parametrize(("fails", "status"), [(full, 503), (broken, 500)], ids=["disk", "fault"])
def test_on_a_page(book: Path, monkeypatch: pytest.MonkeyPatch, fails: object, status: int) -> None:
    site = Site.of(book)
    monkeypatch.setattr("trued.web.pages.events.see", fails)
    fields = Inputs(site.get("/changed/saw-carried").text)
    answer = site.post("/changed/saw-carried", fields.filled({}))
    with opened(book) as kept:
        (event,) = kept.events()
    assert answer.status_code == status and f"event {event.id} was kept: do not enter it again" in words(answer.text)
    assert "othing of this was kept" not in answer.text and "Nothing was kept" not in answer.text


def test_an_action_knows_only_its_own() -> None:
    was_kept("run 0")
    with one_action() as first:
        was_kept("run 1")
        with one_action() as second:
            was_kept("run 2")
        was_kept("answer 3")
    assert (first, second) == (["run 1", "answer 3"], ["run 2"])
    assert kept_all_the_same([*first, "x", "y"]).startswith("Before that 4 rows were kept, the last y:")
    assert kept_all_the_same(first) == "Before that run 1 and answer 3 was kept: do not enter it again."
