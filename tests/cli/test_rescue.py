"""`trued restore` and `trued verify`: what a person is told when the book is damaged, and what brings it back."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from tests.cli.calling import ROOT, STRIP, Call


def kept(trued: Call, book: Path) -> str:
    answer = trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00", "--json").json
    return str(answer["run"])


def spoil(book: Path, *changes: str) -> None:
    """Change what is kept, as no program of ours would."""
    with closing(sqlite3.connect(book, isolation_level=None)) as file:
        for (name,) in file.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            file.execute(f"DROP TRIGGER {name}")
        for change in changes:
            file.execute(change)


def test_a_sound_book(trued: Call, book: Path) -> None:
    kept(trued, book)
    answer = trued("verify", "--book", book, "--json").json
    assert answer["version"] == 3 and answer["standings"] >= 1 and answer["left_out"] == []
    assert answer["rows"]["run"] == 1 and answer["rows"]["reading"] == 3
    assert "The book is sound" in trued("verify", "--book", book).out


def test_each_row_that_cannot_be_read_is_named_and_no_other(trued: Call, book: Path) -> None:
    run = kept(trued, book)
    trued("event", "saw-carried", "--book", book, "--at", "2026-05-05T09:00")
    spoil(book, "UPDATE run SET facts = '{'", "UPDATE reading SET name = CAST(x'ff61' AS TEXT) WHERE seq = 1")
    said = trued("verify", "--book", book, "--json")
    assert said.status == 3
    faults = said.json["error"]["faults"]
    assert faults[0]["text"].startswith("2 faults were found") and "trued restore COPY" in faults[0]["text"]
    assert faults[1]["where"] == f"run {run}" and faults[2]["where"].startswith("reading ")
    assert len(faults) == 3


def test_a_row_that_points_at_nothing_and_a_changed_job_are_named(trued: Call, book: Path) -> None:
    kept(trued, book)
    trued("plan", ROOT / "examples" / "rack.toml", "--book", book)
    spoil(book, "DELETE FROM run", "UPDATE job SET text = text || ' '")
    faults = trued("verify", "--book", book, "--json").faults
    assert sum("of reading points at a run that is not in the book" in fault for fault in faults) == 3
    assert any("its text is not the one that was kept" in fault for fault in faults)


def test_a_damaged_file_and_one_cut_short(trued: Call, book: Path, tmp_path: Path) -> None:
    kept(trued, book)
    whole = book.read_bytes()
    cut = tmp_path / "cut.trued"
    cut.write_bytes(whole[: len(whole) // 2])
    assert trued("verify", "--book", cut).status == 3
    for place in range(4096, len(whole), 4096 * 7):
        spoilt = tmp_path / "spoilt.trued"
        spoilt.write_bytes(whole[:place] + b"\xa5" * 300 + whole[place + 300 :])
        said = trued("verify", "--book", spoilt)
        assert said.status == 3 and "fault of trued" not in said.err, place


def test_what_cannot_be_worked_out_is_said(trued: Call, book: Path) -> None:
    kept(trued, book)
    trued("event", "saw-carried", "--book", book, "--at", "2026-05-05T09:00")
    spoil(book, "UPDATE event SET kind = 'nobody-knows'", "DELETE FROM filter_cache")
    said = trued("verify", "--book", book)
    assert said.status == 3 and "the standings cannot be computed" in said.err


def test_an_older_book_is_left_as_it_is(trued: Call, tmp_path: Path) -> None:
    book = tmp_path / "shop.trued"
    shutil.copyfile(ROOT / "tests" / "data" / "books" / "version-1.trued", book)
    answer = trued("verify", "--book", book, "--json").json
    assert answer["version"] == 1 and answer["standings"] is None
    assert "of the older version 1" in trued("verify", "--book", book).out
    assert [path.name for path in tmp_path.iterdir()] == ["shop.trued"]


def test_a_damaged_book_leads_to_restore_and_restore_leads_back(trued: Call, book: Path, tmp_path: Path) -> None:
    kept(trued, book)
    copy = tmp_path / "copy.trued"
    trued("backup", copy, "--book", book)
    known = trued("standing", "--book", book, "--at", "2027-01-01T09:00", "--json").out
    book.write_bytes(book.read_bytes()[:9000])
    refused = trued("standing", "--book", book)
    assert refused.status == 3 and "trued restore COPY --book FILE" in refused.err
    answer = trued("restore", copy, "--book", book, "--json").json
    (aside,) = answer["aside"]
    assert Path(aside).stat().st_size == 9000 and answer["rows"]["run"] == 1 and answer["book"] == str(book)
    assert trued("standing", "--book", book, "--at", "2027-01-01T09:00", "--json").out == known
    assert trued("verify", "--book", book).status == 0


def test_restore_in_words_and_refused(trued: Call, book: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.trued"
    trued("backup", copy, "--book", book)
    said = " ".join(trued("restore", copy, "--book", book).out.split())
    assert "is that copy now" in said and "set aside together" in said
    before = book.read_bytes()
    assert trued("restore", tmp_path / "none", "--book", book).status == 2
    assert trued("restore", book, "--book", book).status == 2
    copy.write_bytes(b"x" * 3000)
    assert trued("restore", copy, "--book", book).status == 3
    assert book.read_bytes() == before
    assert trued("verify").status == 3


def test_a_bad_byte_in_the_definition_of_a_table_is_damage_to_every_command(
    trued: Call, book: Path, tmp_path: Path
) -> None:
    """The commonest fault of trued that flipped bytes brought out: the database complains in bytes that are no text."""
    kept(trued, book)
    whole = book.read_bytes()
    spoilt = tmp_path / "spoilt.trued"
    for place in (whole.index(b"CREATE TABLE run"), whole.index(b"CREATE TABLE reading")):
        spoilt.write_bytes(whole[: place + 7] + b"\xb5" + whole[place + 8 :])
        calls = (("standing",), ("verify",), ("event", "saw-carried"), ("backup", tmp_path / "no.trued"))
        for call in calls:
            said = trued(*call, "--book", spoilt)
            assert said.status == 3 and "The book is damaged" in said.err, call
        assert trued("restore", spoilt, "--book", book).status == 3
