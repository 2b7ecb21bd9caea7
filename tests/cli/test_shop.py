"""`trued shop`: makes a book, changes it, shows it."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.calling import SHOP, Call

BLADE = '[blade]\nid = "{}"\nplate = "{}"\n{}'


def test_a_book_is_made_and_shown_as_a_shop_file(trued: Call, tmp_path: Path) -> None:
    book = tmp_path / "shop.trued"
    made = trued("shop", SHOP, "--book", book, "--json").json
    assert (made["made"], made["book"]) == (True, str(book))
    assert (made["name"], made["unit"], made["saw"], made["blade"]) == ("The bench by the window", "in", "saw", "thin")
    assert {fixture["id"] for fixture in made["fixtures"]} == {"sled", "wing", "outfeed"}
    shown = trued("shop", "--book", book)
    again = tmp_path / "again.toml"
    again.write_text(shown.out, encoding="utf-8")
    other = tmp_path / "other.trued"
    trued("shop", again, "--book", other)
    assert trued("shop", "--book", other).out == shown.out


def test_a_second_file_changes_what_it_names_and_deletes_nothing(trued: Call, book: Path, tmp_path: Path) -> None:
    more = tmp_path / "more.toml"
    more.write_text('[[fixture]]\nid = "sled"\nkind = "crosscut-sled"\nradius = "17"\n', encoding="utf-8")
    answer = trued("shop", more, "--book", book, "--json").json
    assert answer["made"] is False and answer["event"] is None
    assert len(answer["fixtures"]) == 3 and 'radius = "17"' in answer["text"] and 'thread = "20/in"' in answer["text"]


@pytest.mark.parametrize(
    ("plate", "kerf", "kind"),
    [
        ("0.090", 'kerf = "1/8"\n', "blade-thicker"),
        ("0.060", 'kerf = "0.087"\n', "blade-thinner"),
        ("0.070", 'kerf = "0.094"\n', "blade-same-kerf"),
        ("0.070", "", "blade-thinner"),
    ],
)
def test_another_blade_is_an_event(trued: Call, book: Path, tmp_path: Path, plate: str, kerf: str, kind: str) -> None:
    """The kerf that was found is of the blade before: it is in doubt, and no longer what a plan is made with."""
    kerfs = ("whole=5.0000", "keeper_piece=2.4005", "offcut_piece=2.5055")
    trued("check", "kerf", *kerfs, "--book", book, "--at", "2026-05-04T09:00")
    before = trued("standing", "--book", book, "--at", "2026-05-04T10:00", "--json").json["standings"]
    assert [(one["feature"], one["stale"]) for one in before] == [("blade.kerf", [])]
    new = tmp_path / "blade.toml"
    new.write_text(BLADE.format("other", plate, kerf), encoding="utf-8")
    assert trued("shop", new, "--book", book, "--at", "2026-05-04T11:00", "--json").json["event"] == kind
    (after,) = trued("standing", "--book", book, "--at", "2026-05-04T12:00", "--json").json["standings"]
    assert after["feature"] == "blade.kerf" and after["stale"] and after["u"] > before[0]["u"]
    told = trued("shop", new, "--book", book, "--at", "2026-05-04T12:30", "--json").json
    assert told["event"] is None  # the same blade again


def test_another_blade_is_said_with_its_caution(trued: Call, book: Path, tmp_path: Path) -> None:
    new = tmp_path / "blade.toml"
    new.write_text(BLADE.format("fine", "0.060", 'kerf = "0.087"\n'), encoding="utf-8")
    out = trued("shop", new, "--book", book).out
    assert "Another blade. Recheck: kerf" in out and "WARNING  Don't cut. The knife may be thicker" in out


def test_a_file_without_a_book_is_only_read(trued: Call) -> None:
    said = trued("shop", SHOP)
    assert said.status == 0 and said.out.endswith("name a book with --book to keep it.\n")
    assert trued("shop", SHOP, "--json").json["book"] is None


def test_nothing_to_show(trued: Call, tmp_path: Path) -> None:
    assert trued("shop", "--json").faults == ["Name a shop file to read, a book with --book, or set TRUED_BOOK."]
    none = trued("shop", "--book", tmp_path / "none.trued", "--json")
    assert none.status == 3 and "no book here yet" in none.faults[0]
    assert list(tmp_path.iterdir()) == []


def test_a_bad_file_makes_no_book(trued: Call, tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text('[saw]\nid = "saw"\ncolour = "red"\nslot = "five"\n', encoding="utf-8")
    said = trued("shop", bad, "--book", tmp_path / "shop.trued", "--json")
    assert said.status == 2 and len(said.faults) == 2
    assert [path.name for path in tmp_path.iterdir()] == ["bad.toml"]


def test_what_must_not_be_used_is_said_when_it_is_described(trued: Call, tmp_path: Path) -> None:
    """A knife of 0.100 over a kerf of 0.094 was taken without a word."""
    file = tmp_path / "shop.toml"
    file.write_text(SHOP.read_text(encoding="utf-8").replace('knife = "0.083"', 'knife = "0.100"'), encoding="utf-8")
    said = trued("shop", file, "--book", tmp_path / "a.trued").out
    assert said.startswith("WARNING  The riving knife is as thick as the kerf or thicker")
    (ban,) = trued("shop", file, "--book", tmp_path / "b.trued", "--json").json["bans"]
    assert "No rip." in ban
    assert trued("shop", SHOP, "--book", tmp_path / "c.trued", "--json").json["bans"] == []
