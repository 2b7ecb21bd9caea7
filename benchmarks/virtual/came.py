"""What came of many sessions, and one line for them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from benchmarks.virtual.lots import TOLERANCE

MANY = 7  # runs; more of them are many in one session


@dataclass(slots=True)
class Came:
    """One session. claimed: it was told to be in; true: it was. needless: moves with half the tolerance or less out.

    held: for each interval told, whether it held the truth. longest: most runs in a row with nothing touched.
    asked: questions whether something was mixed up, which here nothing ever is.
    """

    yaw: float
    runs: int = 0
    moves: int = 0
    needless: int = 0
    claimed: bool = False
    true: bool = False
    held: list[bool] = field(default_factory=list)
    longest: int = 0
    asked: int = 0
    minutes: float = 0.0

    def turned(self, x: float) -> None:
        """Count a move that was made at x."""
        self.moves += 1
        self.needless += abs(x) <= TOLERANCE / 2.0

    def ended(self, x: float, *, claimed: bool) -> None:
        """Count the end."""
        self.claimed, self.true = claimed, abs(x) <= TOLERANCE


HEAD = (
    f"{'':48} {'runs':>5} {'+-':>5} {'p90':>4} {'p99':>4} {'most':>4} {'min':>5} {'moves':>5} {'claims':>6} "
    f"{'right':>7} "
    f"{'needless':>8} {'in 7':>7} {'95 %':>6} {'loosest':>7}"
)


def line(name: str, came: Sequence[Came]) -> str:
    """Means and shares of one policy; the intervals over all, and in the quarter of the shops with the most yaw."""
    runs = np.array([c.runs for c in came], dtype=float)
    moves = sum(c.moves for c in came) or 1
    claimed = [c for c in came if c.claimed]
    edge = float(np.quantile([c.yaw for c in came], 0.75))
    held = [h for c in came for h in c.held]
    loose = [h for c in came if c.yaw >= edge for h in c.held]
    told = f"{_share(held):6.1%} {_share(loose):7.1%}" if held else f"{'':14}"
    p90, p99 = (int(np.quantile(runs, p, method="higher")) for p in (0.9, 0.99))
    return (
        f"{name:48} {runs.mean():5.2f} {runs.std() / math.sqrt(len(runs)):5.3f} {p90:4d} {p99:4d} {int(runs.max()):4d} "
        f"{sum(c.minutes for c in came) / len(came):5.1f} {moves / len(came):5.2f} {len(claimed) / len(came):6.1%} "
        f"{_share([c.true for c in claimed]):7.2%} {sum(c.needless for c in came) / moves:8.2%} "
        f"{_share([c.runs <= MANY and c.claimed for c in came]):7.2%} {told}"
    )


def _share(yes: Sequence[bool]) -> float:
    return sum(yes) / len(yes) if yes else math.nan
