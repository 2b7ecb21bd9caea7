"""Killed at any moment: every run that was acknowledged is there whole, and none is there by half."""

import random
import time
from pathlib import Path

from tests.store.samples import apart, new_book

from trued.store.opening import open_book

READINGS = 5

WRITER = f"""
import sys
from datetime import UTC, datetime
from trued.store.ids import id_under, new_id
from trued.store.opening import open_book
from trued.store.rows import ReadingRow, RunRow
now = datetime(2026, 3, 2, tzinfo=UTC)
with open_book(sys.argv[1]) as book:
    while True:
        id = new_id()
        run = RunRow(id, "five-cut", 1, now, now)
        book.add_run(run, [
            ReadingRow(id_under(id, str(seq)), id, seq, "fence_end", str(seq), now, now) for seq in range({READINGS})
        ])
        print(id, flush=True)
"""


def killed_while_writing(book: Path, after_s: float) -> set[str]:
    """The runs that were acknowledged before the process was killed, `after_s` after the first of them."""
    with apart(WRITER, str(book)) as writer:
        assert writer.stdout is not None
        first = writer.stdout.readline()
        time.sleep(after_s)
        writer.kill()
        rest = writer.stdout.read()
    return {line for line in (first + rest).splitlines() if len(line) == 32}


def test_no_acknowledged_run_is_lost_and_none_is_half_there(tmp_path: Path) -> None:
    new_book(tmp_path).close()
    path = tmp_path / "shop.trued"
    moments = random.Random(20260302)
    acknowledged: set[str] = set()
    for _ in range(5):
        acknowledged |= killed_while_writing(path, moments.uniform(0.0, 0.25))
        with open_book(path) as book:
            stored = book.runs()
            found = {run.run.id for run in stored}
            assert acknowledged <= found
            assert {len(run.readings) for run in stored} == {READINGS}
            assert book._connection.exec_driver_sql("PRAGMA integrity_check").scalar_one() == "ok"
    assert len(acknowledged) >= 5
