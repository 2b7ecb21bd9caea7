"""Times of a whole `trued plan` in a process of its own: reading, layout, order, fits, support, and with its sheets.

The jobs are made here, from a seed: furniture-like parts of plywood on sheets of 96 × 48 in and of pine on boards of
96 × 7 1/4 in, with a fit for every part that has mates. Goal: 30 parts under 5 s on two cores.
Run: `python benchmarks/plan_job.py [PARTS ...]`.
"""

import json
import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SHOP = ROOT / "examples" / "shop.toml"
GOAL_S = 5.0
STOCK = """
[[stock]]
id = "sheet"
material = "plywood"
length = "96"
width = "48"
thickness = "23/32"
price = 60

[[stock]]
id = "board"
material = "pine"
length = "96"
width = "7 1/4"
thickness = "3/4"
price = 15
trim_ends = ["1/2", "0"]

"""


def job_text(count: int, seed: int) -> str:
    """A job of so many parts, made from a seed."""
    draw = random.Random(seed)  # noqa: S311 - a benchmark, not a secret
    rows = [f'name = "{count} parts, seed {seed}"\nunit = "in"\n{STOCK}']
    left = count
    while left:
        copies, board = min(left, draw.choice((1, 2, 2, 4))), draw.random() < 0.4
        width = draw.choice(("1 1/2", "2 1/4", "3 1/2")) if board else draw.choice(("6", "11 1/4", "15 1/4", "18"))
        length, name = draw.randrange(6 * 16, 40 * 16), f"p{len(rows)}"
        wood = ("pine", "3/4") if board else ("plywood", "23/32")
        rows.append(
            f'[[part]]\nid = "{name}"\nquantity = {copies}\nmaterial = "{wood[0]}"\nlength = "{length}/16"\n'
            f'width = "{width}"\nthickness = "{wood[1]}"\ntogether = "{name} mates"\n'
        )
        if copies > 1:
            rows.append(
                f'[[fit]]\nid = "{name} alike"\nkind = "alike"\nof = "{name}@2.length - {name}@1.length"\n'
                'at_least = "-0.005"\nat_most = "0.005"\n'
            )
        left -= copies
    return "".join(rows)


def timed(job: Path, *more: str) -> tuple[float, dict[str, object]]:
    """Wall clock of one call, and what it answered."""
    words = [sys.executable, "-m", "trued", "plan", str(job), "--shop", str(SHOP), "--json", *more]
    start = time.perf_counter()
    told = subprocess.run(words, check=True, capture_output=True, text=True).stdout
    return time.perf_counter() - start, json.loads(told)


def main(sizes: list[int]) -> None:
    """Print one line for each job."""
    print(f"goal: 30 parts under {GOAL_S:.0f} s, without sheets")
    print(" parts  seed  cuts  settings  bound   plan s   with sheets s")
    with tempfile.TemporaryDirectory() as folder:
        for count in sizes:
            for seed in (1, 2, 3):
                job = Path(folder) / "job.toml"
                job.write_text(job_text(count, seed), encoding="utf-8")
                took, answer = timed(job)
                printed, _ = timed(job, "--out", folder)
                order, least = answer["order"], answer["settings_bound"]
                cuts = len(order) if isinstance(order, list) else 0
                print(
                    f"{count:>6} {seed:>5} {cuts:>5} {answer['settings']:>9} {least:>6} {took:>8.2f} {printed:>15.2f}"
                )


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [10, 30, 60])
