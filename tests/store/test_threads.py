"""Several threads of one program with one book open, and another program that writes in it.

POSIX, close(): "All outstanding record locks owned by the process on the file shall be released." So a look at the
book's bytes beside an open connection would hand the book to the next program.
"""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.store.file.leftovers import beside, of_another
from trued.store.ids import new_id
from trued.store.opening import open_book
from trued.store.rows import EventRow

NOW = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)
WRITER = """
import sys
from pathlib import Path
from tests.store.test_threads import event
from trued.store.opening import open_book
for number in range(60):
    with open_book(Path(sys.argv[1])) as book:
        book.add_event(event(number))
print("kept")
"""
HOLDER = """
import sys
from pathlib import Path
from trued.errors import BookRefused
from trued.store.file.alone import alone
try:
    with alone(Path(sys.argv[1]), 0.2):
        print("alone")
except BookRefused:
    print("refused")
"""


def event(number: int) -> EventRow:
    """One of many."""
    return EventRow(new_id(), "saw-carried", NOW + timedelta(minutes=number))


def another(program: str, book: Path) -> subprocess.Popen[str]:
    """Another program beside this one."""
    root = Path(__file__).parents[2]
    env = os.environ | {"PYTHONPATH": os.pathsep.join((str(root / "src"), str(root)))}
    return subprocess.Popen([sys.executable, "-c", program, str(book)], stdout=subprocess.PIPE, text=True, env=env)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book that nobody has open."""
    path = tmp_path / "shop.trued"
    with open_book(path, create=True):
        pass
    return path


@pytest.mark.skipif(os.name == "nt", reason="no file of an open book can be taken there")
def test_a_second_opening_keeps_the_locks_of_the_first(book: Path) -> None:
    with open_book(book) as first:
        first.add_event(event(0))
        assert beside(book)[0].stat().st_size > 0
        assert not of_another(book)
        with open_book(book) as second:
            assert len(second.events()) == 1
        with another(HOLDER, book) as other:
            assert other.communicate(timeout=30)[0] == "refused\n"
    with another(HOLDER, book) as other:
        assert other.communicate(timeout=30)[0] == "alone\n"


def test_many_read_while_another_program_writes(book: Path) -> None:
    faults: list[Exception] = []
    done = threading.Event()

    def read() -> None:
        seen = 0
        try:
            while not done.is_set():
                with open_book(book) as mine:
                    now = len(mine.events())
                assert now >= seen
                seen = now
        except Exception as fault:  # noqa: BLE001 -- a thread's fault must be seen by the test
            faults.append(fault)

    readers = [threading.Thread(target=read) for _ in range(4)]
    with another(WRITER, book) as writer:
        for reader in readers:
            reader.start()
        said = writer.communicate(timeout=100)[0]
        done.set()
        for reader in readers:
            reader.join(30)
    assert said == "kept\n" and not faults
    with open_book(book) as at_last:
        assert len(at_last.events()) == 60 and not at_last.look_through().faults
