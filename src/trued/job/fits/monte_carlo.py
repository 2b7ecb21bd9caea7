"""Monte Carlo: draws of named error sources, and the adaptive rule that says when there are enough.

JCGM 101:2008. An error that is normal with a scatter known from few readings is drawn as Student t (6.4.9.7 there),
and errors that were judged from one scatter share its draw; an evenly spread one is drawn evenly (6.4.2.4).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

from trued.measure.estimate import ErrorSource, Shape, UncertainValue

if TYPE_CHECKING:
    from numpy.random import Generator

    from trued.job.geometry.samples import Array

ONE_RUN = 10_000
"""Draws of one run of the adaptive rule at least (7.9.4 b)."""
_SQUARE_ROOT_3 = math.sqrt(3.0)


@dataclass(frozen=True, slots=True)
class Draws:
    """The sources that are drawn, in the order of their rows: normal ones by their pool, then those evenly spread."""

    sources: tuple[ErrorSource, ...]

    @classmethod
    def of(cls, values: Iterable[UncertainValue]) -> Draws:
        """All sources that some values rest on, each once."""
        found = dict.fromkeys(source for value in values for source in value.parts if source.u > 0.0)
        return cls(tuple(sorted(found, key=lambda s: (s.shape is Shape.RECTANGULAR, _pool(s), s.key))))

    def matrix(self, values: Sequence[UncertainValue]) -> tuple[Array, Array]:
        """The values' means, and a row for each with what one standard deviation of every source does to it."""
        at = {source: column for column, source in enumerate(self.sources)}
        rows = np.zeros((len(values), len(self.sources)))
        for row, value in enumerate(values):
            for source, c in value.parts.items():
                if source.u > 0.0:
                    rows[row, at[source]] = c * source.u
        return np.array([value.value for value in values]), rows

    def draw(self, rng: Generator, count: int) -> Array:
        """So many draws of every source in units of its standard uncertainty: an array (sources, count)."""
        normal = sum(source.shape is Shape.NORMAL for source in self.sources)
        found = np.empty((len(self.sources), count))
        rng.standard_normal(out=found[:normal])
        for dof, first, last in self._pools():
            found[first:last] *= np.sqrt(dof / rng.chisquare(dof, count))
        even = found[normal:]
        rng.random(out=even)
        even -= 0.5
        even *= 2.0 * _SQUARE_ROOT_3
        return found

    def _pools(self) -> Iterable[tuple[float, int, int]]:
        """(degrees of freedom, first row, row after the last) of every scatter that is itself uncertain."""
        at = 0
        for (_, dof, shape), among in groupby(self.sources, key=lambda s: (*_pool(s), s.shape)):
            count = len(list(among))
            if shape is Shape.NORMAL and math.isfinite(dof):
                yield dof, at, at + count
            at += count


def _pool(source: ErrorSource) -> tuple[str, float]:
    return source.pool or source.key, source.dof


@dataclass(frozen=True, slots=True)
class Outcome:
    """What so many draws of one quantity came to; `settled`: whether the rule was met before they ran out."""

    mean: float
    u: float
    interval: tuple[float, float]
    draws: int
    settled: bool


def adaptive(
    sample: Callable[[Generator, int], Array],
    *,
    seed: int,
    level: float = 0.95,
    digits: int = 2,
    shortest: bool = False,
    most: int = 10_000_000,
) -> Outcome:
    """Draws in runs until the mean, u and both ends of the interval stand to `digits` of u (JCGM 101, 7.9.4).

    sample: gives so many values of the quantity. shortest: the shortest interval (5.3.4) in place of the one with as
    much outside at either end. most: draws after which it is given up.
    """
    rng = np.random.default_rng(seed)
    run = max(math.ceil(100.0 / (1.0 - level)), ONE_RUN)
    values: list[Array] = []
    told: list[tuple[float, float, float, float]] = []
    while True:
        values.append(sample(rng, run))
        told.append(_told(values[-1], level, shortest=shortest))
        drawn = len(values) * run
        if len(values) > 1:
            whole = np.concatenate(values)
            settled = stands(told, tolerance(float(whole.std(ddof=1)), digits))
            if settled or drawn + run > most:
                mean, u, low, high = _told(whole, level, shortest=shortest)
                return Outcome(mean, u, (low, high), drawn, settled)


def tolerance(u: float, digits: int) -> float:
    """Half of the last of so many significant digits of u (7.9.2)."""
    if u <= 0.0:
        return 0.0
    last = math.floor(math.log10(u)) - digits + 1
    if round(u / 10.0**last) >= 10**digits:  # 0.0996 to two digits is 0.10
        last += 1
    return 0.5 * 10.0**last


def stands(told: Sequence[Sequence[float]], delta: float) -> bool:
    """Whether twice the standard deviation of the mean of the runs is within `delta`, for every figure (7.9.4 g, h)."""
    spread = np.std(np.array(told), axis=0, ddof=1) / math.sqrt(len(told))
    return bool(np.all(2.0 * spread <= delta))


def _told(values: Array, level: float, *, shortest: bool) -> tuple[float, float, float, float]:
    low, high = shortest_interval(values, level) if shortest else symmetric_interval(values, level)
    return float(values.mean()), float(values.std(ddof=1)), low, high


def symmetric_interval(values: Array, level: float) -> tuple[float, float]:
    """The interval with as much outside at either end (7.7.2)."""
    low, high = np.quantile(values, [0.5 - level / 2.0, 0.5 + level / 2.0])
    return float(low), float(high)


def shortest_interval(values: Array, level: float) -> tuple[float, float]:
    """The shortest interval that holds that part of the draws (7.7.3, 7.7.4)."""
    ordered = np.sort(values)
    inside = round(level * len(ordered))
    at = int(np.argmin(ordered[inside:] - ordered[: len(ordered) - inside]))
    return float(ordered[at]), float(ordered[at + inside])
