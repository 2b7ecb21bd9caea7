"""Blunders: how often honest runs are stopped, and how often a planted blunder is named.

python3 tasks.py bench blunders [RUNS [SEED]] [clean] [sessions] [PART ...]

5,000 runs of each check and of each kind when nothing is said. The goals: fewer than 1 in 100 honest runs raise a
warning that withholds a move, and the right blunder is named in 90 of 100 of those whose readings can show it.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from importlib import import_module
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import numpy as np
from benchmarks.planted.kind import Kind, counted
from tests.checks.ran import World, simulate
from tests.checks.worlds import all_worlds

from trued.procedure import Severity
from trued.procedure.finding import noticed

RUNS, STOPPED, NAMED = 5000, 0.01, 0.90
PARTS = {
    "one-run": "Blunders that many checks can see in one run",
    "of-blade": "Blunders of arbor, blade, knife and insert",
    "of-tilt": "Blunders of the tilt stops",
    "of-table": "Blunders of rip fence, table and wing",
    "of-fence": "Blunders of the sled's fence",
    "of-detent": "Blunders of detents and bar",
    "of-tools": "Blunders of caliper, kerf and stop",
    "of-stock": "Blunders of stock, grooves and ripping",
    "of-work": "Blunders of sight line, boxes and support",
    "declared": "Blunders that the asks of a check declare, planted in its worked example",
    "left-out": "Readings left out, of nought, or that contradict each other by their words",
    "over-runs": "Blunders that only several runs can show",
}


def stopped(world: World, runs: int, seed: int) -> tuple[int, Counter[str]]:
    """How many honest runs raise a warning that withholds a move, and which; a danger is what they found."""
    count, codes = 0, Counter[str]()
    for _, taken in simulate(world, runs, seed):
        held = {seen.code for seen in noticed(taken) if seen.act not in (Severity.NOTE, Severity.DANGER)}
        count += bool(held)
        codes.update(held)
    return count, codes


def clean(runs: int, seed: int) -> None:
    """The table of honest runs."""
    print(f"\nHonest runs: {runs} of each check, seed {seed}; goal: fewer than {STOPPED:.0%} stopped\n")
    print("| check | stopped | share | by which warning |\n| --- | --- | --- | --- |", flush=True)
    total, worlds = 0, all_worlds()
    for name in sorted(worlds):
        count, codes = stopped(worlds[name], runs, seed)
        total += count
        said = ", ".join(f"{code} {n}" for code, n in codes.most_common())
        print(f"| {name} | {count} | {count / runs:.2%} | {said} |", flush=True)
    print(f"| all | {total} | {total / runs / len(worlds):.3%} | |", flush=True)


def sessions(runs: int, seed: int) -> None:
    """How often a blunder is named in sessions at sleds whose screw, lock and strips are honest."""
    from benchmarks.planted.over_runs import honest

    rng, codes = np.random.default_rng(seed), Counter[str]()
    for _ in range(runs):
        codes.update(honest(rng).said)
    said = ", ".join(f"{code} {n}" for code, n in codes.most_common())
    print(f"\nHonest sessions: {runs} at sleds of their own, seed {seed}: a blunder named in {codes.total()} ({said})")


def kinds_of(part: str) -> list[Kind]:
    """The kinds of one file of benchmarks/planted/."""
    kinds: list[Kind] = import_module(f"benchmarks.planted.{part.replace('-', '_')}").kinds()
    return kinds


def planted(kinds: list[Kind], runs: int, seed: int) -> None:
    """The table of planted blunders."""
    print("| blunder | where | could show it | named | share | otherwise said |\n| --- | --- | --- | --- | --- | --- |")
    for kind in kinds:
        count = counted(kind, runs, seed)
        said = "; ".join(f"{what} {n}" for what, n in count.instead.most_common(3))
        low = "" if not count.shown or count.share >= NAMED else " **below**"
        share = f"{count.share:.1%}{low}" if count.shown else "–"
        print(
            f"| {kind.name} | {kind.where} | {count.shown} of {count.runs} | {count.named} | {share} | {said} |",
            flush=True,
        )
    print()
    for name in dict.fromkeys(kind.name for kind in kinds):
        for text in dict.fromkeys(kind.shows for kind in kinds if kind.name == name):
            print(f"- {name}: its readings can show it where {text}.", flush=True)


def main(words: list[str]) -> None:
    numbers, parts = [int(w) for w in words if w.isdigit()], [w for w in words if not w.isdigit()]
    runs = numbers[0] if numbers else RUNS
    seed = numbers[1] if len(numbers) > 1 else int(time.strftime("%Y%m%d"))
    if not parts or "clean" in parts:
        clean(runs, seed)
    if not parts or "sessions" in parts:
        sessions(runs, seed)
    for part, what in PARTS.items():
        if not parts or part in parts:
            print(f"\n{what}: {runs} of each kind, seed {seed}; goal {NAMED:.0%}\n")
            planted(kinds_of(part), runs, seed)


if __name__ == "__main__":
    main(sys.argv[1:])
