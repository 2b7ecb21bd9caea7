"""A name, a note or a word with an escape sequence in it shows the sequence; the terminal obeys nothing of it.

ECMA-48 clause 5: C0 and C1, and what ESC begins. Unicode TR 36: the signs that turn the order around.
"""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.cli.calling import RACK, SHOP, Call

from trued.cli.lines import harmless

CLEAR, TITLE, C1, TURNED = "\x1b[2J", "\x1b]0;owned\x07", "\x9b31m", "\u202eeurt"
EVIL = CLEAR + TITLE + C1 + TURNED


@pytest.fixture
def shop_file(tmp_path: Path) -> Path:
    """The example shop under a name that a terminal would obey."""
    file = tmp_path / "shop.toml"
    escaped = EVIL.encode("unicode_escape").decode().replace("\\x", "\\u00")
    text = SHOP.read_text(encoding="utf-8")
    first = next(line for line in text.splitlines() if line.startswith("name ="))
    file.write_text(text.replace(first, f'name = "{escaped}"', 1), encoding="utf-8")
    return file


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    """The example job under such a name."""
    file = tmp_path / "job.toml"
    escaped = EVIL.encode("unicode_escape").decode().replace("\\x", "\\u00")
    text = RACK.read_text(encoding="utf-8")
    first = next(line for line in text.splitlines() if line.startswith("name ="))
    file.write_text(text.replace(first, f'name = "{escaped}"', 1), encoding="utf-8")
    return file


def controls(text: str) -> set[str]:
    """What a terminal would obey."""
    return {sign for sign in text if unicodedata.category(sign) in ("Cc", "Zl", "Zp")} - {"\n", "\t"} | {
        sign for sign in text if unicodedata.bidirectional(sign) in ("RLO", "LRO", "RLE", "LRE", "PDF", "RLI", "LRI")
    }


def test_names_of_shop_and_job(trued: Call, shop_file: Path, job_file: Path, tmp_path: Path) -> None:
    book = tmp_path / "b.trued"
    calls = (
        ("shop", shop_file),
        ("shop", shop_file, "--book", book),
        ("standing", "--book", book),
        ("plan", job_file, "--book", book),
        ("proof", job_file, "shelf@1=13.376", "--book", book),
    )
    told = [trued(*words) for words in calls]
    assert [controls(said.out + said.err) for said in told] == [set()] * len(calls)
    assert any("\\x1b[2J" in said.out for said in told), "it is shown, not hidden"
    as_json = trued("standing", "--book", book, "--json")
    assert CLEAR in as_json.json["name"] and controls(as_json.out) == set()


@pytest.mark.parametrize(
    "words",
    [(EVIL,), ("check", EVIL), ("check", "kerf", f"whole={EVIL}"), ("moved", EVIL, EVIL, EVIL), ("plan", EVIL)],
)
def test_a_word_that_is_refused(
    trued: Call, book: Path, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TRUED_BOOK", str(book))
    said = trued(*words)
    assert said.status == 2 and controls(said.out + said.err) == set()


@given(st.text())
def test_any_text(text: str) -> None:
    assert controls(harmless(text)) == set()
    if not controls(text):
        assert len(harmless(text)) >= len(text)


def test_what_a_person_writes_is_left_alone() -> None:
    text = "13 3/8 in ± 0.005″ – Säge, 1½ ▒\n\tzweite Zeile – שלום – 鋸"
    assert harmless(text) == text
