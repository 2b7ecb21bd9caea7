"""Long work in a process of its own: what it gives, raises and keeps is as if it had been done here."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator

import pytest

from trued.errors import Asks, InputRefused, Question, one_action, was_kept
from trued.web.apart import Apart


@pytest.fixture(scope="module")
def apart() -> Iterator[Apart]:
    """One process for all of these."""
    made = Apart()
    yield made
    made.stop()


def told(number: int, *, twice: bool = False) -> tuple[int, int]:
    """Where it was done, and what was given."""
    was_kept(f"row {number}")
    return os.getpid(), number * (1 + twice)


def refused(kind: str) -> None:
    """Fails after a row was kept."""
    was_kept("plan 1")
    if kind == "asks":
        raise Asks(Question("moved", "m1", "Which one?", (("yes", "Yes"), ("no", "No"))))
    raise InputRefused.of("length", "x", "This is no length.")


def killed() -> None:
    """As by the system when memory is short."""
    os.kill(os.getpid(), signal.SIGKILL)


def test_it_is_done_elsewhere_and_answers_here(apart: Apart) -> None:
    with one_action() as kept:
        place, number = apart(told, 3, twice=True)
    assert place != os.getpid() and number == 6 and kept == ["row 3"]
    assert apart(told, 4)[0] == place


def test_a_refusal_comes_over_whole_with_what_was_kept(apart: Apart) -> None:
    with one_action() as kept, pytest.raises(InputRefused) as error:
        apart(refused, "")
    assert [(fault.where, fault.read) for fault in error.value.faults] == [("length", "x")] and kept == ["plan 1"]
    with pytest.raises(Asks) as asked:
        apart(refused, "asks")
    assert asked.value.questions[0].about == "m1"


def test_one_that_is_ended_from_outside_is_a_sentence_and_the_next_is_done(apart: Apart) -> None:
    with pytest.raises(InputRefused, match="Send it again"):
        apart(killed)
    assert apart(told, 1)[1] == 1


def ended(place: int) -> bool:
    """Whether that process is gone, at the latest five seconds from now."""
    for _ in range(100):
        try:
            os.kill(place, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.05)
    return False


def test_stopping_ends_what_runs() -> None:
    made = Apart()
    place, _ = made(told, 1)
    made.stop()
    assert ended(place)


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGKILL])
def test_it_ends_with_the_one_who_started_it(how: signal.Signals) -> None:
    text = "import os, time; from trued.web.apart import Apart; print(Apart()(os.getpid), flush=True); time.sleep(60)"
    with subprocess.Popen([sys.executable, "-c", text], stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        place = int(running.stdout.readline())
        running.send_signal(how)
        running.wait(10)
    assert ended(place)


def test_it_goes_without_a_word() -> None:
    text = "import os; from trued.web.apart import Apart; a = Apart(); print(a(os.getpid), flush=True)"
    done = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, timeout=60, check=True)
    assert done.stderr == "" and ended(int(done.stdout))
