"""`trued backup`: a copy that opens."""

from __future__ import annotations

from pathlib import Path

from tests.cli.calling import STRIP, Call


def test_the_copy_holds_what_the_book_holds(trued: Call, book: Path, tmp_path: Path) -> None:
    trued("check", "five-cut", *STRIP, "--book", book)
    copy = tmp_path / "copy.trued"
    answer = trued("backup", copy, "--book", book, "--json").json
    assert answer["copy"] == str(copy) and answer["rows"]["run"] == 1 and answer["rows"]["reading"] == 3
    known = [trued("standing", "--book", path, "--at", "2027-01-01T09:00", "--json").out for path in (book, copy)]
    assert known[0] == known[1]


def test_in_words_and_never_over_a_file(trued: Call, book: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.trued"
    assert "found sound" in trued("backup", copy, "--book", book).out
    before = copy.read_bytes()
    again = trued("backup", copy, "--book", book, "--json")
    assert again.status in (2, 3) and copy.read_bytes() == before
    nowhere = trued("backup", tmp_path / "no" / "copy.trued", "--book", book, "--json")
    assert nowhere.status in (2, 3) and len(nowhere.faults) == 1
    assert trued("backup", copy, "--json").status == 3
