"""How often the stated 95 % interval of each check holds the truth, over simulated shops.

python3 tasks.py bench coverage [RUNS [SEED ...]] [CHECK ...]

4,000 runs a check and three seeds, of which one is today's date, when nothing is said; named checks only, or all. The
goal is 93 to 97 % for every feature and seed. Beside it: what the start of a new book gives, which is only assumed, in
shops that all scatter just so, and in shops that scatter as widely as the start says. It fails nothing.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import numpy as np
from tests.checks.ran import Simulated, World, coverage
from tests.checks.simulated import five_cut_with
from tests.checks.worlds import all_worlds
from tests.worlds.measuring import own_scatter

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.usecases.shop.list_checks import one_check

RUNS, GOAL = 4000, (0.93, 0.97)


def assumed(spread_of_shops: bool) -> World:
    """Five cuts in a new book: the start is what the check says, the shop scatters so or about so."""
    between = one_check("five-cut").between_runs
    start = between.start if between is not None else EstimatedSd(0.0, 1.0)

    def world(rng: np.random.Generator) -> Simulated:
        sigma = own_scatter(rng, start.s, start.dof) if spread_of_shops else start.s
        return replace(five_cut_with(rng, sigma), scatter=None, instruments=())

    return world


def rows(name: str, world: World, runs: int, seeds: list[int]) -> None:
    """One line a feature, ready for a page: the share of each seed, and whether all are within the goal."""
    shares = [coverage(world, runs, seed) for seed in seeds]
    for feature in shares[0]:
        held = [share.get(feature, 0.0) for share in shares]
        verdict = "within" if all(GOAL[0] <= h <= GOAL[1] for h in held) else "**outside**"
        print(f"| {name} | {feature} | {' | '.join(f'{h:.2%}' for h in held)} | {verdict} |", flush=True)


def main(words: list[str]) -> None:
    numbers, named = [int(w) for w in words if w.isdigit()], [w for w in words if not w.isdigit()]
    runs = numbers[0] if numbers else RUNS
    seeds = numbers[1:] or [1, 2, int(time.strftime("%Y%m%d"))]
    worlds = all_worlds()
    print(f"{runs} runs a check; goal {GOAL[0]:.0%} to {GOAL[1]:.0%}\n", flush=True)
    print(f"| check | feature | {' | '.join(f'seed {seed}' for seed in seeds)} | verdict |", flush=True)
    print(f"| --- | --- | {'--- | ' * len(seeds)}--- |", flush=True)
    for name in named or sorted(worlds):
        rows(name, worlds[name], runs, seeds)
    if named:
        return
    for text, spread in (("all shops as the start says", False), ("shops as wide as the start says", True)):
        held = [coverage(assumed(spread), runs, seed)["fence-angle"] for seed in seeds]
        print(f"five-cut, new book, {text}: {'  '.join(f'{h:.2%}' for h in held)} (assumed, no goal)")


if __name__ == "__main__":
    main(sys.argv[1:])
