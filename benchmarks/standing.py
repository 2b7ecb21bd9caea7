"""How long the standings of a long history take: from rows in memory, and from a book of a million readings.

    python3 tasks.py bench standing [--readings N] [--seed N] [--make FILE]

The book is made in a temporary folder through the store's own tables, then `trued standing` is run on it as a person
would run it, each time in a process of its own: from nothing (once; what it comes to is kept), gone on from what was
kept, and after one more run and one more move. It prints figures beside their goals and fails nothing.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import islice
from pathlib import Path
from random import Random
from typing import NamedTuple
from uuid import UUID

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from trued.advice.statuses import standings
from trued.equipment.file.read_shop import read_shop
from trued.standing.history.history import History
from trued.store import tables
from trued.store.file.connecting import WRITES, driver, engine
from trued.store.ids import new_id
from trued.store.kept.append_row import add_all, values_of
from trued.store.opening import open_book
from trued.store.rows import EventRow, HistoryRows, MoveRow, ReadingRow, RunRow, StoredRun
from trued.usecases.shop.shop_now import history_of

SMALL, SMALL_GOAL_S, GOAL_S = 10_000, 0.2, 1.0
BEGIN = datetime(2018, 1, 1, 8, 0, tzinfo=UTC)  # so that a million readings end before today
EVERY = timedelta(minutes=20)
FENCE = "sled.fence-angle@0"
BATCH, CACHE_KB = 1000, 1_000_000
RUNS = 7
SHOP = (
    'trued = 1\nname = "Long history"\nunit = "in"\n[blade]\nid = "combo"\n[[instrument]]\nid = "caliper-1"\n'
    'kind = "caliper"\nlimit = "0.001 in"\n[[fixture]]\nid = "sled"\nkind = "crosscut-sled"\nfence = "far"\n'
    'keeper = "left"\nradius = "18 in"\n'
)
Rows = RunRow | ReadingRow | MoveRow | EventRow


class Took(NamedTuple):
    """Seconds by the clock, and seconds that a core worked; the first is longer on a machine that has more to do. And
    the most memory in MB."""

    clock: float
    core: float
    memory: float = 0.0


class Writer:
    """Rows of one shop, invented: five cuts, every tenth run a kerf, every five hundredth a caliper's repeat."""

    def __init__(self, seed: int) -> None:
        self.rng = Random(seed)  # noqa: S311 - a benchmark, not a secret

    def rows(self, readings: int) -> Iterator[tuple[Rows, ...]]:
        """So many readings in runs, each with its readings; a move after every tenth run, now and then an event."""
        made = number = 0
        while made < readings:
            at = BEGIN + number * EVERY
            run, typed = self.run(number, at)
            yield (run, *typed)
            made, number = made + len(typed), number + 1
            if number % 10 == 0:
                way = self.rng.choice(("open", "close"))
                yield (MoveRow(self._id(), FENCE, at + EVERY / 4, "0.001 in", 0.001 / 18.0, "rad", way),)
            if number % 100 == 0:
                yield (EventRow(self._id(), "saw-carried", at + EVERY / 2),)

    def run(self, number: int, at: datetime) -> tuple[RunRow, list[ReadingRow]]:
        """The run of that number."""
        gauss = self.rng.gauss
        if number % 500 == 250:
            spots = (("closed", 0.0), ("edge", 0.75))
            check, typed = "caliper", [(name, size + gauss(0.0, 0.0005)) for name, size in spots for _ in range(5)]
        elif number % 10 == 5:
            kerf = 0.125 + gauss(0.0, 0.001)
            check, typed = "kerf", [("whole", 6.0), ("keeper_piece", 3.0), ("offcut_piece", 3.0 - kerf)]
        else:
            free = 1.0 + gauss(0.0, 0.003)
            widths = [("fence_end", 1.0), ("fence_end", 1.0005), ("free_end", free), ("free_end", free)]
            check, typed = "five-cut", [*widths, ("length", 12.0)]
        run = RunRow(self._id(), check, 1, at, at, fixture="sled")
        return run, [self._reading(run, seq, name, value) for seq, (name, value) in enumerate(typed)]

    def _reading(self, run: RunRow, seq: int, name: str, inches: float) -> ReadingRow:
        tenths = round(inches * 2000.0) * 5
        typed = f"{tenths / 10000.0:.4f}"
        return ReadingRow(self._id(), run.id, seq, name, typed, run.taken, run.taken, exact_mm=(tenths * 127, 50000))

    def _id(self) -> str:
        return UUID(int=self.rng.getrandbits(128), version=4).hex


def make_book(path: Path, readings: int, seed: int) -> None:
    """A book of so many readings."""
    with open_book(path, create=True) as book:
        book.save_shop(read_shop(SHOP))
    rows = Writer(seed).rows(readings)
    with engine(path, create=False, wait_s=5.0).connect() as kept, kept.execution_options(**{WRITES: True}).begin():
        driver(kept).execute(f"PRAGMA cache_size = {-CACHE_KB}")  # else each page is written many times
        while batch := [row for rows_of_one in islice(rows, BATCH) for row in rows_of_one]:
            for kind, table in _TABLES:
                add_all(kept, table, [_values(row) for row in batch if isinstance(row, kind)])


_TABLES = ((RunRow, tables.run), (ReadingRow, tables.reading), (MoveRow, tables.move), (EventRow, tables.event))


def _values(row: Rows) -> tuple[dict[str, object], dict[str, object]]:
    values = values_of(row)
    if isinstance(row, ReadingRow):
        values["mm_num"], values["mm_den"] = values.pop("exact_mm")
        return values, {"received": values.pop("received")}
    return values, {"chain": row.id}


def small(seed: int) -> None:
    """Standings of ten thousand readings in memory: findings, moves and events are worked out already."""
    rows = [row for rows in Writer(seed).rows(SMALL) for row in rows]
    history = in_memory(rows)
    now = max(row.at for row in history.observed) + EVERY
    times = []
    for _ in range(RUNS):
        begin = time.perf_counter(), time.process_time()
        standings(history, now, shop=read_shop(SHOP))
        times.append(Took(time.perf_counter() - begin[0], time.process_time() - begin[1]))
    runs = sum(isinstance(row, RunRow) for row in rows)
    print(f"{SMALL:,} readings in {runs:,} runs, {len(history.moved)} moves, {len(history.happened)} events")
    told("standings of all of it, from nothing", times, SMALL_GOAL_S)


def in_memory(rows: list[Rows]) -> History:
    """The history that these rows tell."""
    shop, runs = read_shop(SHOP), {row.id: (row, list[ReadingRow]()) for row in rows if isinstance(row, RunRow)}
    for row in rows:
        if isinstance(row, ReadingRow):
            runs[row.run][1].append(row)
    stored = tuple(StoredRun(run, tuple(readings)) for run, readings in runs.values())
    moves = tuple(row for row in rows if isinstance(row, MoveRow))
    events = tuple(row for row in rows if isinstance(row, EventRow))
    history, left_out = history_of(HistoryRows(stored, moves, events), shop, shop.instruments)
    assert not left_out, left_out[0]  # noqa: S101 -- else this would time something else
    return history


def large(readings: int, seed: int) -> None:
    """A book of so many readings, asked from the command line."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long.trued"
        begin = time.perf_counter()
        here = [sys.executable, __file__, "--make", str(path), "--readings", str(readings), "--seed", str(seed)]
        subprocess.run(here, check=True)
        with open_book(path) as book:
            rows = book.rows()
        print(f"\na book of {rows['reading']:,} readings in {rows['run']:,} runs, {rows['move']:,} moves,", end=" ")
        print(f"{rows['event']:,} events: {path.stat().st_size / 1e6:.0f} MB, made in", end=" ")
        print(f"{time.perf_counter() - begin:.0f} s", flush=True)
        first = ask(path)
        told("trued standing, from nothing (once)", [first], None)
        print(f"  most memory of that process: {first.memory:.0f} MB")
        told("trued standing, gone on from what was kept", [ask(path) for _ in range(RUNS)], GOAL_S)
        told("trued standing, after each of more runs and moves", list(_after_more(path, rows["run"])), GOAL_S)


def _after_more(path: Path, number: int) -> Iterator[Took]:
    writer = Writer(0)
    for n in range(number, number + RUNS):
        run, readings = writer.run(0, BEGIN + n * EVERY)
        with open_book(path) as book:
            book.add_run(run, readings)
            book.add_move(MoveRow(new_id(), FENCE, run.taken + EVERY / 4, "0.001 in", 5e-5, "rad", "open"))
        yield ask(path)


def ask(path: Path) -> Took:
    """One `trued standing`, from the start of the process to its end."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    command = [sys.executable, "-m", "trued", "standing", "--book", str(path)]
    with tempfile.TemporaryFile() as out:
        begin = time.perf_counter()
        process = subprocess.Popen(command, cwd=path.parent, env=environment, stdout=out, stderr=out)
        _, status, used = os.wait4(process.pid, 0)
        took = Took(time.perf_counter() - begin, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)
        process.returncode = os.waitstatus_to_exitcode(status)
        out.seek(0)
        said = out.read().decode()
    if process.returncode not in (0, 1) or "fence" not in said:
        sys.exit(f"trued standing ended with {process.returncode}: {said}")
    return took


def told(what: str, times: list[Took], goal_s: float | None) -> None:
    """One line: by the clock, least and most of it, and what a core worked."""
    clock, core = [took.clock for took in times], statistics.median(took.core for took in times)
    median = statistics.median(clock)
    verdict = "" if goal_s is None else f"; {'within' if median <= goal_s else 'OVER'} the goal of {goal_s} s"
    spread = f"({min(clock):.2f} to {max(clock):.2f}, a core worked {core:.2f} s)"
    print(f"  {what}: {median:.2f} s {spread}{verdict}", flush=True)


def main(words: list[str]) -> None:
    """Print all of it."""
    ask_for = argparse.ArgumentParser(description="Standings of long histories.")
    ask_for.add_argument("--readings", type=int, default=1_000_000)
    ask_for.add_argument("--seed", type=int, default=20261125)
    ask_for.add_argument("--make", type=Path, default=None, help="make that book and leave it")
    got = ask_for.parse_args(words)
    if got.make is not None:
        make_book(got.make, got.readings, got.seed)
        return
    small(got.seed)
    if got.readings:
        large(got.readings, got.seed)


if __name__ == "__main__":
    main(sys.argv[1:])
