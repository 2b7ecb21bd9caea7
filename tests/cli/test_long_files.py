"""Whatever a name leads to, no more is read of it than a person's file can hold."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from tests.cli.calling import ROOT, SHOP, Call

from trued.usecases.files.read_file import MOST_BYTES

PROGRAM = "import sys; from trued.__main__ import main; sys.exit(main(sys.argv[1:]))"
WORDS = {
    "a job": ["plan", "{}", "--kerf", "1/8"],
    "a shop": ["shop", "{}"],
    "a shop for a plan": ["plan", str(ROOT / "examples" / "rack.toml"), "--shop", "{}"],
    "measured parts": ["proof", "{}", "a=1"],
    "readings": ["check", "kerf", "--readings", "{}"],
}


@pytest.mark.parametrize("words", WORDS.values(), ids=WORDS.keys())
def test_a_huge_file_is_refused_unread(trued: Call, tmp_path: Path, words: list[str]) -> None:
    huge = tmp_path / "huge.toml"
    with huge.open("wb") as file:
        file.truncate(300_000_000)
    said = trued(*(word.format(huge) for word in words))
    assert said.status == 2 and "more than a million bytes" in said.err
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert grown < 2_000_000  # KiB, of the whole test process; the file twice over would not fit beside it


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no endless file")
@pytest.mark.parametrize("words", WORDS.values(), ids=WORDS.keys())
def test_an_endless_file_ends(words: list[str]) -> None:
    """`/dev/zero` once took 2.4 GB in ten seconds."""
    command = [sys.executable, "-c", PROGRAM, *(word.format("/dev/zero") for word in words)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT / "src", timeout=60)
    assert done.returncode == 2 and "more than a million bytes" in done.stderr


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no endless file")
def test_an_endless_input_ends() -> None:
    command = [sys.executable, "-c", PROGRAM, "check", "kerf", "--readings", "-"]
    with Path("/dev/zero").open("rb") as endless:
        done = subprocess.run(command, stdin=endless, capture_output=True, text=True, check=False, cwd=ROOT / "src")
    assert done.returncode == 2 and "more than a million bytes" in done.stderr


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_read_to_the_limit_and_no_further(trued: Call, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    written = 0

    def write() -> None:
        nonlocal written
        try:
            with pipe.open("wb", buffering=0) as into:
                while True:
                    written += into.write(b"#" * 65_536)
        except BrokenPipeError:
            pass

    writer = threading.Thread(target=write, daemon=True)
    writer.start()
    assert trued("shop", pipe).status == 2
    writer.join(10)
    assert not writer.is_alive() and written < MOST_BYTES + 200_000  # what a pipe itself holds comes on top


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_with_a_shop_file_in_small_pieces_is_read_whole(trued: Call, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    content = SHOP.read_bytes()

    def write() -> None:
        with pipe.open("wb", buffering=0) as into:
            for at in range(0, len(content), 100):
                into.write(content[at : at + 100])

    writer = threading.Thread(target=write, daemon=True)
    writer.start()
    assert trued("shop", pipe).out == trued("shop", SHOP).out
    writer.join(10)


def test_a_field_of_readings_over_the_limit_of_the_reader(trued: Call, tmp_path: Path) -> None:
    """It once was a fault of ours: Python's reader takes at most 131,072 signs in a field."""
    file = tmp_path / "strip.csv"
    file.write_text('whole,,,"' + "1" * 140_000 + '"\n')
    said = trued("check", "kerf", "--readings", file, "--json")
    assert said.status == 2 and "cannot be read as lines of readings" in said.faults[0]
