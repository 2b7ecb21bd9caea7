"""Whoever reads the answer may stop reading: `trued … | true` ends without a traceback, for every command.

POSIX: a write to a pipe without a reader fails with EPIPE (write(2)); Python ignores SIGPIPE and raises (its manual).
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from tests.cli.calling import RACK, ROOT, SHOP, STRIP

from trued.cli.main import COMMANDS, main
from trued.usecases.shop.shop_now import opened

BUFFERED = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
"""As a person has it: what is printed waits in a buffer until the end."""
PROGRAM = "import sys; from trued.__main__ import main; sys.exit(main(sys.argv[1:]))"


def unread(*words: object, errors_too: bool = False) -> tuple[int, str]:
    """The exit status and standard error of a command whose output nobody reads."""
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-c", PROGRAM, *map(str, words)]
    try:
        done = subprocess.run(
            command,
            stdout=writing,
            stderr=writing if errors_too else subprocess.PIPE,
            text=True,
            check=False,
            cwd=ROOT / "src",
            timeout=60,
            env=BUFFERED,
        )
    finally:
        os.close(writing)
    return done.returncode, done.stderr or ""


@pytest.mark.parametrize("name", COMMANDS)
def test_help_that_nobody_reads_ends_quietly(name: str) -> None:
    status, said = unread(name, "--help")
    assert said == "" and status in (0, 130)


CALLS: dict[str, list[object]] = {
    "overview": ["--help"],
    "no command": ["nonsense"],
    "check": ["check", "five-cut", *STRIP],
    "check, json": ["check", "five-cut", *STRIP, "--json"],
    "check, refused": ["check", "five-cut", "fence_end=1", "--json"],
    "checks": ["checks", "--json"],
    "no book": ["standing", "--book", "nowhere/at-all.book", "--json"],
    "plan": ["plan", RACK, "--json"],
    "a shop": ["shop", SHOP, "--json"],
}


@pytest.mark.parametrize("words", CALLS.values(), ids=CALLS.keys())
def test_an_answer_that_nobody_reads_leaves_no_traceback(words: list[object]) -> None:
    status, said = unread(*words)
    assert "Traceback" not in said and "Exception ignored" not in said and "fault of trued" not in said
    assert status in (0, 2, 3, 130)


@pytest.mark.parametrize("words", CALLS.values(), ids=CALLS.keys())
def test_neither_does_a_complaint_that_nobody_reads(words: list[object]) -> None:
    status, _ = unread(*words, errors_too=True)
    assert status in (0, 2, 3, 130)


def test_what_was_kept_is_kept_though_nobody_reads_it(book: Path) -> None:
    status, said = unread("check", "five-cut", *STRIP, "--book", book, "--json")
    assert status == 130 and said == ""
    with opened(book) as kept:
        assert [stored.run.check for stored in kept.runs()] == ["five-cut"]


@pytest.mark.parametrize("closed", ["1>&-", "2>&-", "1>&- 2>&-"])
def test_a_stream_that_is_not_there_is_no_fault(closed: str) -> None:
    """POSIX shell, 2.7.6: `>&-` closes a descriptor; Python then has no stream at all."""
    for words in ("check kerf --help", "checks --json", "nonsense"):
        command = f'exec {closed}; "$0" -c "{PROGRAM}" {words}'
        done = subprocess.run(
            ["/bin/sh", "-c", command, sys.executable], capture_output=True, text=True, check=False, cwd=ROOT / "src"
        )
        assert done.returncode == (2 if words == "nonsense" else 0), words
        assert "Traceback" not in done.stderr


def test_a_stop_that_nobody_reads_ends_quietly(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C while the other end is gone: the sentence of the stop cannot be written either."""

    def stopped(*_: object) -> int:
        raise KeyboardInterrupt

    class Gone(io.StringIO):
        def write(self, _: str, /) -> int:
            raise BrokenPipeError

        def fileno(self) -> int:
            raise OSError

    monkeypatch.setattr("trued.cli.main._run", stopped)
    monkeypatch.setattr("sys.stderr", Gone())
    assert main(["checks"]) == 130
