"""How long a person waits for one check on the command line, from the start of the process to its end.

It prints a figure beside its goal and fails nothing: time depends on the machine.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time

GOAL_S = 0.6
RUNS = 7
READINGS = ["fence_end=0.500", "free_end=0.538", "length=9.5"]  # invented
WORDS = ["check", "five-cut", *READINGS, "--fence", "far", "--keeper", "left", "--json"]


def seconds(folder: str, environment: dict[str, str]) -> float:
    begin = time.perf_counter()
    command = [sys.executable, "-m", "trued", *WORDS]
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    taken = time.perf_counter() - begin
    if done.returncode != 0:
        sys.exit(f"trued {' '.join(WORDS)} ended with {done.returncode}: {done.stderr or done.stdout}")
    return taken


def main() -> None:
    dropped = ("PYTHONDONTWRITEBYTECODE", "TRUED_BOOK")  # a second run finds the bytecode of the first
    environment = {name: value for name, value in os.environ.items() if name not in dropped}
    with tempfile.TemporaryDirectory() as folder:
        first = seconds(folder, environment)
        times = [seconds(folder, environment) for _ in range(RUNS)]
    median = statistics.median(times)
    verdict = "within" if median <= GOAL_S else "OVER"
    print(f"trued {' '.join(WORDS)}")
    print(f"median of {RUNS}: {median:.3f} s ({min(times):.3f} to {max(times):.3f}); first run {first:.3f} s")
    print(f"{verdict} the goal of {GOAL_S} s")


if __name__ == "__main__":
    main()
