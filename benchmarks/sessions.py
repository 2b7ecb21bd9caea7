"""Sessions at lots of virtual fences: by the advice, and by an exact filter that knows each shop's noise.

    python3 tasks.py bench sessions [--shops N] [--seeds N ...] [--law NAME] [--only oracle]

Three sessions a shop: the first from an empty book, the first after bar play and caliper, and a second one after an
event that was told. All distributions are of our own making (benchmarks/virtual/lots.py). Printed, never a timed test;
docs/virtual-shop.md has the figures.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.virtual.by_advice import AFTER, EMPTY, SECOND, sessions
from benchmarks.virtual.came import HEAD, Came, line
from benchmarks.virtual.lots import LAWS, Lot, drawn
from benchmarks.virtual.oracle_sessions import Oracle
from benchmarks.virtual.swing_told import SwingTold

NAMES = EMPTY, AFTER, SECOND


def by_oracle(lot: Lot) -> dict[str, list[Came]]:
    """The same sessions of the exact filter; after bar play and caliper it need see no pair."""
    one = Oracle(lot, pair=False)
    first = one.set_true(0)
    one.event()
    return {EMPTY: first, AFTER: Oracle(lot, pair=True).set_true(0), SECOND: one.set_true(1)}


def told(law: str, seeds: list[int], shops: int, *, tool: bool = True) -> Iterator[str]:
    """Two lines a session, all seeds together."""
    lots = [drawn(law, seed, shops) for seed in seeds]
    each = [by_oracle(lot) for lot in lots]
    mine = [sessions(lot, range(shops)) for lot in lots] if tool else []
    yield HEAD
    for name in NAMES:
        if mine:
            yield line(f"{law}: {name}", [came for some in mine for came in some[name]])
        yield line(f"{law}: oracle, {name}", [came for some in each for came in some[name]])
    swing = [came for lot in lots for came in SwingTold(lot).set_true(0)]
    yield line(f"{law}: oracle told the swing only", swing)


def main(words: list[str]) -> None:
    """Print the table."""
    ask = argparse.ArgumentParser(description="Sessions at lots of virtual fences.")
    ask.add_argument("--shops", type=int, default=2000)
    ask.add_argument("--seeds", type=int, nargs="+", default=[1, 2, 3])
    ask.add_argument("--law", choices=sorted(LAWS), default="")
    ask.add_argument("--only", choices=("oracle",), default="")
    got = ask.parse_args(words)
    for law in [got.law] if got.law else LAWS:
        for text in told(law, got.seeds, got.shops, tool=not got.only):
            print(text, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
