"""The program that serves: this computer alone, a free port, the end by Ctrl-C."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from trued.cli.main import main
from trued.errors import InputRefused
from trued.web.serving import listening

ROOT = Path(__file__).parents[2]


def test_only_this_computer_is_listened_to() -> None:
    with listening(0) as listener:
        assert listener.getsockname()[0] == "127.0.0.1"


def test_a_taken_port_gives_the_next_free_one() -> None:
    with listening(0) as first:
        port = first.getsockname()[1]
        with listening(port) as second:
            assert second.getsockname()[1] not in (0, port)


@pytest.mark.parametrize("port", [-1, 65536])
def test_a_port_that_is_none(port: int) -> None:
    with pytest.raises(InputRefused):
        listening(port)


@pytest.mark.skipif(os.name == "nt", reason="Ctrl-C is sent as a signal here")
def test_open_prints_its_address_answers_and_ends_with_0(tmp_path: Path) -> None:
    """Without a book named it makes one in the data folder of the person, and says where."""
    env = os.environ | {"XDG_DATA_HOME": str(tmp_path), "PYTHONPATH": str(ROOT / "src"), "HOME": str(tmp_path)}
    command = [sys.executable, "-m", "trued", "open", "--port", "0"]
    with subprocess.Popen(
        command, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as running:
        assert running.stdout is not None and running.stderr is not None
        found = re.search(r"http://127\.0\.0\.1:\d+/", running.stdout.readline())
        assert found is not None
        with urllib.request.urlopen(found[0], timeout=30) as answer:  # noqa: S310 -- our own address
            assert answer.status == 200 and b"Nothing checked yet" in answer.read()
        running.send_signal(signal.SIGINT)
        out, said = running.communicate(timeout=30)
    assert running.returncode == 0 and out.endswith("Closed.\n")
    assert "A new, empty book" in said and "Traceback" not in said
    assert list(tmp_path.rglob("shop.trued"))


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["open", "--port", "x", "--book", "b.trued"], 2),
        (["open", "--port", "70000", "--book", "b.trued"], 2),
        (["open", "--book", "nowhere.trued"], 3),
        (["open", "--demo", "--book", "b.trued"], 2),
    ],
)
def test_what_open_refuses(words: list[str], status: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(words) == status
    assert list(tmp_path.iterdir()) == []


def test_a_port_taken_by_others_is_never_shared() -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        with listening(other.getsockname()[1]) as ours:
            assert ours.getsockname() != other.getsockname()
