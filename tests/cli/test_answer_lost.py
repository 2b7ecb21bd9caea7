"""After the commit an answer that cannot be written names what is kept; never *nothing was kept* where something was.

`/dev/full` (its manual page, full(4)): every write to it fails as on a full disk.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.cli.calling import RACK, ROOT, SHOP, STRIP

from trued.usecases.shop.shop_now import opened

pytestmark = pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full disk to try")
PROGRAM = "import sys; from trued.__main__ import main; sys.exit(main(sys.argv[1:]))"


def lost(*words: object) -> tuple[int, str]:
    """The exit status and what stands on standard error, when nothing can be written to standard output."""
    command = [sys.executable, "-c", PROGRAM, *map(str, words)]
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, check=False, cwd=ROOT / "src")
    return done.returncode, done.stderr


def ids(book: Path, kind: str) -> list[str]:
    """The rows of that kind in the book."""
    with opened(book) as kept:
        rows: dict[str, Callable[[], list[str]]] = {
            "run": lambda: [stored.run.id for stored in kept.runs()],
            "move": lambda: [row.id for row in kept.moves()],
            "event": lambda: [row.id for row in kept.events()],
            "plan": lambda: [row.id for row in kept.plans()],
            "answer": lambda: [row.id for row in kept.answers()],
        }
        return rows[kind]()


CALLS = {
    "check": ("run", ["check", "five-cut", *STRIP, "--fence", "far", "--keeper", "left"]),
    "moved": ("move", ["moved", "fence-angle", "open", "0.0054"]),
    "event": ("event", ["event", "saw-carried"]),
    "proof": ("run", ["proof", RACK, "shelf@1=13.376", "shelf@2=13.377"]),
    "plan": ("plan", ["plan", RACK]),
}


@pytest.mark.parametrize("form", [[], ["--json"]], ids=["words", "json"])
@pytest.mark.parametrize(("kind", "words"), CALLS.values(), ids=CALLS.keys())
def test_what_is_kept_is_named(book: Path, kind: str, words: list[object], form: list[str]) -> None:
    status, said = lost(*words, "--book", book, *form)
    (id,) = ids(book, kind)
    assert status == 74 and f"{kind} {id}" in said and "do not enter it again" in said
    assert said.count("\n") == 1 and "othing" not in said


@pytest.mark.parametrize("form", [[], ["--json"]], ids=["words", "json"])
@pytest.mark.parametrize("word", ["confirm", "withdraw"])
def test_an_answer_and_what_is_taken_back(book: Path, word: str, form: list[str]) -> None:
    lost("check", "five-cut", *STRIP, "--fence", "far", "--keeper", "left", "--book", book)
    (run,) = ids(book, "run")
    status, said = lost(word, run, "--book", book, *form)
    assert status == 74 and "done all the same" in said and said.count("\n") == 1
    if word == "confirm":
        (id,) = ids(book, "answer")
        assert f"answer {id}" in said
    else:
        assert ids(book, "run") == [] and "othing" not in said


def test_a_shop_and_a_demo(tmp_path: Path) -> None:
    book = tmp_path / "new.trued"
    status, said = lost("shop", SHOP, "--book", book)
    assert status == 74 and book.exists() and "look before you do it again" in said
    status, said = lost("demo", "--out", tmp_path / "demo")
    assert status == 74 and "fault of trued" not in said and said.count("\n") == 1


def test_without_a_book_nothing_is_said_to_be_kept() -> None:
    status, said = lost("check", "five-cut", *STRIP, "--fence", "far", "--keeper", "left")
    assert status == 74 and "kept" not in said


def test_what_is_refused_was_not_kept(book: Path) -> None:
    status, _ = lost("moved", "fence-angle", "open", "x", "--book", book, "--json")
    assert status == 2 and ids(book, "move") == []
