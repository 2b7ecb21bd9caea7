"""The virtual shop: test cuts until the fence is true, by the tool, by stand-ins, and by an oracle that knows all.

    python3 tasks.py bench shop [--seed N] [--shops N] [--changed] [--nature usual|finer|changed] [--years N]

All distributions are of our own making (benchmarks/virtual/nature.py); the tool knows none of them and is used through
its public functions alone. Printed, never a timed test; docs/virtual-shop.md has the figures.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.virtual.nature import NATURES
from benchmarks.virtual.report import table, what_came, years


def main(words: list[str]) -> None:
    """Print the tables of one seed."""
    ask = argparse.ArgumentParser(description="The virtual shop.")
    ask.add_argument("--seed", type=int, default=20261125)
    ask.add_argument("--shops", type=int, default=2000)
    ask.add_argument("--changed", action="store_true", help="all distributions changed")
    ask.add_argument("--nature", choices=sorted(NATURES), default="usual")
    ask.add_argument("--years", type=int, default=0, help="shops that are followed for a year after that")
    ask.add_argument("--cores", type=int, choices=(1, 2), default=1)
    ask.add_argument("--only", default="", help="tool, or nothing for all")
    got = ask.parse_args(words)
    nature = NATURES["changed" if got.changed else got.nature]
    print(f"seed {got.seed}, {got.shops} shops, {nature}")
    for line in table(what_came(nature, got.seed, got.shops, got.cores, got.only)):
        print(line)
    if got.years:
        print()
        for line in years(nature, got.seed, got.years):
            print(line)


if __name__ == "__main__":
    main(sys.argv[1:])
