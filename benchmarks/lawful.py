"""Invented shops and jobs, drawn from seeds: does any plan hold a ticket that breaks a hard rule?

Each is planned in memory; its JSON is read by the checker of tests/lawful, which shares no code with the planner.
Run: `python benchmarks/lawful.py [HOW_MANY] [FIRST_SEED]` (2,000 from 1 without them). Prints every fault, what the
tickets came to, and how often each way out was taken. Goal: no fault.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from tests.lawful.drawn import drawn, looked_at  # noqa: E402 - found after the path is set


def one(seed: int) -> tuple[int, list[str], Counter[str]]:
    """The faults of one shop and job, and what its plan holds."""
    seen = looked_at(drawn(seed))
    if seen.plan is None:
        return seed, seen.faults, Counter({"job refused": 1})
    plan = seen.plan
    found = Counter(f"ticket: {ticket['station']}" for ticket in plan["order"])
    found["ticket without a number, waiting for a fact"] = sum(bool(ticket["waits"]) for ticket in plan["order"])
    found["ticket behind a hold"] = sum(bool(ticket["unchecked"]) for ticket in plan["order"])
    found["ticket with more first steps than the blade height"] = sum(len(t["before"]) > 1 for t in plan["order"])
    found["part not made"] = len(plan["not_made"])
    found.update(f"plan with problem: {code}" for code in {problem["code"] for problem in plan["problems"]})
    return seed, seen.faults, found


def main(many: int = 2000, first: int = 1) -> None:
    start, bad, total = time.perf_counter(), 0, Counter[str]()
    with ProcessPoolExecutor() as pool:
        for seed, faults, found in pool.map(one, range(first, first + many), chunksize=10):
            total += found
            bad += bool(faults)
            for fault in faults:
                print(f"seed {seed}: {fault}")
    print(f"{many} shops and jobs from seed {first}, {time.perf_counter() - start:.0f} s; plans with a fault: {bad}")
    for name, count in sorted(total.items()):
        print(f"{count:6}  {name}")


if __name__ == "__main__":
    main(*(int(word) for word in sys.argv[1:]))
