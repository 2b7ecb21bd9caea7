"""Bad input through the real program: one sentence, the right exit status, and nothing half-written."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from tests.cli.calling import RACK, ROOT, SHOP, STRIP, Call

Refused = Callable[..., None]
RACK_TEXT = RACK.read_text(encoding="utf-8")
JOBS = {
    "a part that is not there in a fit": ('of = "rail.length', 'of = "rial.length', "Did you mean rail"),
    "sizes that go in a circle": ('depth = "1/4"', 'depth = "rim"\nrim = "depth"', "circle"),
    "a part larger than all stock": ('length = "30"', 'length = "80"', "fits on no piece of stock"),
    "a size of nought": ('length = "30"', 'length = "0"', "above 0"),
    "a size below nought": ('length = "30"', 'length = "depth - 1"', "above 0"),
    "a unit that is none": ('length = "30"', 'length = "30 furlong"', "furlong"),
    "a size that is no number": ('length = "30"', 'length = "thirty"', "thirty"),
}  # fmt: skip
FILES = {
    "an empty file": ("", "empty"),
    "a file that is not TOML": ("[[part\n", "TOML"),
    "a file that is no text": ("\udcff\udcfe", "text"),
}


@pytest.fixture
def is_refused(trued: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Refused:
    """As people see it and as scripts do; the folder is as it was."""
    monkeypatch.chdir(tmp_path)

    def judged(status: int, said: str, *words: object) -> None:
        before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
        people = trued(*words)
        assert (people.status, people.out) == (status, "")
        assert said in people.err and people.err.count("\n") == 1
        script = trued(*words, "--json")
        assert script.status == status
        (text,) = script.faults
        assert said in text
        assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before

    return judged


def test_the_real_program(tmp_path: Path) -> None:
    """Once as a person starts it: the words of the refusal alone stand on standard error."""
    (tmp_path / "job.toml").write_text("", encoding="utf-8")
    path = os.pathsep.join((str(ROOT / "src"), os.environ.get("PYTHONPATH", "")))
    command = [sys.executable, "-m", "trued", "plan", "job.toml", "--kerf", "0.1", "--out", "sheets"]
    env = {**os.environ, "PYTHONPATH": path}
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=tmp_path, env=env)
    assert (done.returncode, done.stdout) == (2, "")
    assert "empty" in done.stderr and done.stderr.count("\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


@pytest.mark.parametrize(("old", "new", "said"), JOBS.values(), ids=JOBS)
def test_a_job(is_refused: Refused, tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in RACK_TEXT
    (tmp_path / "job.toml").write_text(RACK_TEXT.replace(old, new), encoding="utf-8")
    is_refused(2, said, "plan", "job.toml", "--shop", SHOP, "--out", "sheets")


@pytest.mark.parametrize(("text", "said"), FILES.values(), ids=FILES)
@pytest.mark.parametrize("command", ["plan", "shop"])
def test_a_file(is_refused: Refused, tmp_path: Path, command: str, text: str, said: str) -> None:
    (tmp_path / "it.toml").write_text(text, encoding="utf-8", errors="surrogateescape")
    words = ("--kerf", "0.1") if command == "plan" else ("--book", "new.trued")
    is_refused(2, said, command, "it.toml", *words)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("fence_end=0.5", "free_end=0.538"), "length is missing"),
        (("fence_end=0.5", "free_end=wide", "length=9.5"), "digits"),
        (("fence_end=0.5", "free_end=0.538", "length=9.5 furlong"), "unit"),
        (("fence_end=0.5", "free_end=-0.538", "length=9.5"), "no sign"),
    ],
)
def test_a_reading(is_refused: Refused, words: tuple[str, ...], said: str) -> None:
    is_refused(2, said, "check", "five-cut", *words)


def test_a_book_of_a_newer_version(is_refused: Refused, book: Path) -> None:
    with closing(sqlite3.connect(book, isolation_level=None)) as file:
        file.execute("PRAGMA user_version = 99")
    said = "Install a newer trued"
    is_refused(3, said, "standing", "--book", "shop.trued")
    is_refused(3, said, "check", "five-cut", *STRIP, "--book", "shop.trued")
    is_refused(3, said, "plan", RACK, "--book", "shop.trued", "--out", "sheets")


def test_a_book_that_is_something_else_or_not_there(is_refused: Refused, tmp_path: Path) -> None:
    (tmp_path / "song.trued").write_text("la la\n" * 99, encoding="utf-8")
    is_refused(3, "not a trued book", "moved", "fence-angle", "open", "0.01", "--book", "song.trued")
    is_refused(3, "", "event", "saw-carried", "--book", "none.trued")
    is_refused(3, "", "shop", SHOP, "--book", "no/such/folder/shop.trued")


def test_a_folder_that_cannot_be_written(is_refused: Refused, tmp_path: Path) -> None:
    """A file where the folder should be (of a plan: test_plan.py); whoever runs the tests may write everywhere else."""
    (tmp_path / "file").write_text("here", encoding="utf-8")
    is_refused(2, "not a demo's own", "demo", "--out", "file")
    is_refused(2, "", "demo", "--out", "file/demo")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="may write everywhere")
def test_a_folder_without_leave_to_write(is_refused: Refused, tmp_path: Path) -> None:
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o500)
    is_refused(2, "cannot be written", "plan", RACK, "--shop", SHOP, "--out", "closed/sheets")
    is_refused(3, "", "shop", SHOP, "--book", "closed/shop.trued")
