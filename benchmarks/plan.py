"""Times and gaps of layouts: random furniture-like jobs on sheets of 2440 × 1220 mm. Printed, never a timed test.

The jobs are made here, from a seed: lengths from 150 to 1200 mm, widths from 60 to 600 mm, one to four of each, six in
ten with their grain kept, kerf 3.2 mm. Run: `python benchmarks/plan.py [PARTS ...]`.
"""

import random
import sys
import time

from trued.plan.lay_out import lay_out
from trued.plan.layout.pieces import UNITS_PER_MM, PartGrain, Rules, Stock, Want
from trued.plan.layout.result import Layout


def furniture(parts: int, seed: int) -> tuple[Want, ...]:
    """A job of so many parts, made from a seed."""
    chance = random.Random(seed)  # noqa: S311 - a benchmark, not a secret
    wants: list[Want] = []
    left = parts
    while left:
        copies = min(left, chance.choice((1, 2, 2, 4)))
        length, width = chance.randrange(150, 1201), chance.randrange(60, 601)
        grain = PartGrain.LENGTH if chance.random() < 0.6 else PartGrain.ANY
        wants.append(Want(f"p{len(wants)}", copies, length * UNITS_PER_MM, width * UNITS_PER_MM, grain))
        left -= copies
    return tuple(wants)


def main(sizes: list[int]) -> None:
    """Print one line for each job."""
    sheet = Stock("sheet", 2440 * UNITS_PER_MM, 1220 * UNITS_PER_MM)
    print(" parts  seed  sheets  bound     gap  settings   tried   ended  s (of this process)")
    for parts in sizes:
        for seed in (1, 2, 3):
            start = time.process_time()
            layout = lay_out((sheet,), furniture(parts, seed), Rules(kerf=32_000_000))
            took = time.process_time() - start
            if isinstance(layout, Layout):
                least = round(layout.bound / (2.44 * 1.22))
                print(
                    f"{parts:>6} {seed:>5} {len(layout.used):>7} {least:>6} {layout.gap:>7.1%} {layout.settings:>9} "
                    f"{layout.tried:>7} {layout.ended:>7} {took:>7.2f}"
                )


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [30, 80])
