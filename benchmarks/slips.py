"""Slips with moves: how often the slip that was made is named first, and what is learnt of the screw meanwhile.

    python3 tasks.py bench slips [SESSIONS [SEED]]

200 sessions of each kind when nothing is said. A slip can be told where the exact posterior gives it 90 % or more
(benchmarks/slipped/exact.py: the same priors, the shop's own scatter known). The goals: named first in at least 80 % of
those, and a wrong response learnt in no more sessions than where nothing slips. The person answers truthfully.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.slipped.session import KINDS, Came, Session

from trued.standing.filtered.slip import Slip

SESSIONS, SEED, NAMED = 200, 20261130, 0.80


def sessions(kind: Slip | None, count: int, seed: int) -> list[Came]:
    """So many sessions with that slip, each at a sled of its own."""
    start = 0 if kind is None else 100_000 * (1 + KINDS.index(kind))
    return [Session(seed, start + n, kind).play() for n in range(count)]


def line(kind: Slip | None, all_: list[Came]) -> str:
    """One row of the table."""
    tells = [came for came in all_ if came.tells]
    first = sum(came.named == kind for came in tells)
    other = Counter(came.named or "nothing" for came in tells if came.named != kind)
    if kind is None:
        other = Counter(came.named for came in all_ if came.named)
    share = f"{first} of {len(tells)}, {first / len(tells):.0%}" if tells else "-"
    said = ", ".join(f"{what} {n}" for what, n in other.most_common(3))
    wrong, runs = sum(came.wrong for came in all_), sum(came.runs for came in all_) / len(all_)
    asked = f"{sum(came.asked for came in all_)} ({sum(came.false for came in all_)})"
    ends = f"{sum(came.true_in for came in all_ if came.proven)} of {sum(came.proven for came in all_)}"
    return f"| {kind or 'no slip'} | {share} | {said} | {wrong} of {len(all_)} | {runs:.2f} | {asked} | {ends} |"


def main(words: list[str]) -> None:
    numbers = [int(word) for word in words]
    count, seed = (numbers + [SESSIONS, SEED][len(numbers) :])[:2]
    print(f"{count} sessions a kind, seed {seed}; goal: {NAMED:.0%} named first\n")
    heads = ("slip", "named first", "else named", "wrong response", "runs", "asked (without need)", "in of proven in")
    print(f"| {' | '.join(heads)} |")
    print("| --- | --- | --- | --- | --- | --- | --- |", flush=True)
    slipped: list[Came] = []
    for kind in (None, *KINDS):
        came = sessions(kind, count, seed)
        print(line(kind, came), flush=True)
        slipped += came if kind is not None else []
    tells = [came for came in slipped if came.tells]
    first, wrong = sum(came.named == came.kind for came in tells), sum(came.wrong for came in slipped)
    print(f"\nAll kinds: {first} of {len(tells)} named first; a wrong response in {wrong} of {len(slipped)}.")


if __name__ == "__main__":
    main(sys.argv[1:])
