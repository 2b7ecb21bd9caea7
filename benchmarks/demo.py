"""The demo in many invented workshops: does what the proof calls sure agree with the hidden truth?

    python3 tasks.py bench demo [--seeds N] [--cores 1|2]

Printed, never a timed test. Every seed is another workshop with another hand; the tool knows nothing of how they are
drawn (src/trued/usecases/demo/demo_truth.py).
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from trued.usecases.demo.demo import Demo


@dataclass(frozen=True, slots=True)
class Came:
    """One workshop. told: (chance told before the first cut, whether it fitted)."""

    seed: int
    sure: int
    wrong: tuple[str, ...]
    fence_z: float
    told: tuple[tuple[float, bool], ...]
    steps: int


def came(seed: int) -> Came:
    """Run the whole demo once."""
    with TemporaryDirectory() as folder:
        demo = Demo(Path(folder) / "demo", seed)
        steps = sum(1 for _ in demo.steps())
        outcome = demo.outcome
    if outcome is None or outcome.fence_said is None:
        raise AssertionError(f"seed {seed}: the demo ended without an outcome")
    x = outcome.fence_said.x
    told = tuple((chance, fitted) for _, _, fitted, chance in outcome.fits)
    return Came(seed, outcome.sure, outcome.wrong, (outcome.fence_rad - x.value) / x.u, told, steps)


def report(all_came: Sequence[Came]) -> Iterator[str]:
    """What a person wants to know of it."""
    agree = sum(not one.wrong for one in all_came)
    sure, wrong = sum(one.sure for one in all_came), sum(len(one.wrong) for one in all_came)
    yield f"proof agrees with truth in {agree} of {len(all_came)} workshops ({100 * agree / len(all_came):.1f} %)"
    yield f"of {sure} sure words {wrong} were wrong ({100 * wrong / sure:.2f} %)"
    held = sum(abs(one.fence_z) <= 2.0 for one in all_came)
    yield f"the fence lay within twice its uncertainty in {held} of {len(all_came)}"
    told = [pair for one in all_came for pair in one.told]
    mean = sum(chance for chance, _ in told) / len(told)
    yield f"chances told before the first cut: {len(told)}, {100 * mean:.1f} % on average"
    yield f"of them fitted {sum(fitted for _, fitted in told)} ({100 * sum(f for _, f in told) / len(told):.1f} %)"
    yield f"steps of the loop: {sum(one.steps for one in all_came) / len(all_came):.1f} on average"
    yield from (f"seed {one.seed}: {', '.join(one.wrong)}" for one in all_came if one.wrong)


def main(words: list[str]) -> None:
    """Print the figures."""
    ask = argparse.ArgumentParser(description="The demo in many workshops.")
    ask.add_argument("--seeds", type=int, default=200)
    ask.add_argument("--cores", type=int, choices=(1, 2), default=1)
    got = ask.parse_args(words)
    seeds = range(1, got.seeds + 1)
    if got.cores == 1:
        all_came = [came(seed) for seed in seeds]
    else:
        with ProcessPoolExecutor(got.cores) as pool:
            all_came = list(pool.map(came, seeds))
    for line in report(all_came):
        print(line)


if __name__ == "__main__":
    main(sys.argv[1:])
