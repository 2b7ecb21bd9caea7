"""One kind of blunder, planted in simulated runs, and how often it was named."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np


@dataclass(frozen=True, slots=True)
class Planted:
    """One run or history with the blunder in it: what was said of it, and whether its readings could show it.

    What is said of readings that cannot show it does not count, and may be left out.
    """

    said: frozenset[str]
    shows: bool


@dataclass(frozen=True, slots=True)
class Kind:
    """`names`: the codes of which one must be said. `shows`: in words, when the readings can show it."""

    name: str
    where: str
    names: frozenset[str]
    shows: str
    plant: Callable[[np.random.Generator], Planted]


@dataclass(slots=True)
class Count:
    """Runs in all, those that could show it, and those of them that named it; what was said instead."""

    runs: int = 0
    shown: int = 0
    named: int = 0
    instead: Counter[str] = field(default_factory=Counter)

    @property
    def share(self) -> float:
        """Of those that could show it."""
        return self.named / self.shown if self.shown else float("nan")


def counted(kind: Kind, runs: int, seed: int) -> Count:
    """Plant it in so many runs."""
    rng, count = np.random.default_rng(seed), Count()
    for _ in range(runs):
        one = kind.plant(rng)
        named = bool(one.said & kind.names)
        count.runs += 1
        count.shown += one.shows
        count.named += one.shows and named
        if one.shows and not named:
            count.instead[", ".join(sorted(one.said)) or "nothing"] += 1
    return count
