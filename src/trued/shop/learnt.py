"""How far a procedure repeats from run to run with one fixture: itself something that the shop learns.

It begins with what the check takes for usual (few degrees of freedom) and learns from every run that was repeated
with nothing touched, and from every run that the filter had foretold. While no untouched pair is on record nothing
is proven in.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from trued.measure.scatter import Scatter
from trued.measure.student import root
from trued.shop.feature import find_feature, named
from trued.shop.follow import DAY, follow
from trued.shop.history import History, Observed
from trued.shop.shared import read_variance, run_source

LEAST_SHARE = 0.4  # a miss that is mostly owed to something else says little of the scatter between runs


@dataclass(frozen=True, slots=True)
class Miss:
    """How far a run was from what was to be expected: `gain` times the scatter between runs, and the variance of
    `other` that is owed to readings, settling and time.
    """

    size: float
    gain: float
    other: float


def scatter_of(history: History, check: str, fixture: str, start: Scatter | None = None) -> Scatter | None:
    """What is known of the scatter between runs of `check` with `fixture`, in the unit of the feature it teaches.

    start: what the check takes for usual; without it, what the least learned run on record took. None when the
    check has no scatter between runs, or nothing is on record and no start is given.
    """
    rows = [row for row in history.observed if row.check == check and named(row.feature).thing == fixture]
    rows = [row for row in rows if run_source(row.x) is not None]
    if not rows:
        return start
    known = start or _start(rows)
    feature = min(row.feature for row in rows)
    repeats = tuple(_repeats(history, feature, check))
    scatter = replace(learn(known, repeats), pairs=known.pairs + len(repeats))
    foretold = tuple(_foretold(history, feature, check, scatter))
    return replace(learn(known, (*repeats, *foretold)), pairs=scatter.pairs)


def learn(start: Scatter, misses: Sequence[Miss]) -> Scatter:
    """The start after all misses at once, each counted by the part of it that the runs own.

    That part depends on the scatter itself: the answer is the fixed point (of EM), where the scatter that divides the
    misses is the one that comes out. Solved in units of the start's variance.
    """
    if not misses:
        return start
    unit = start.s**2 or max(m.size**2 for m in misses) or 1.0
    largest = max([start.s**2 / unit, *((m.size / m.gain) ** 2 / unit for m in misses)])

    def too_large(square: float) -> float:
        return square - start.learn(_owed(misses, square * unit)).s ** 2 / unit

    return start.learn(_owed(misses, root(too_large, 0.0, 2.0 * largest) * unit))


def _owed(misses: Sequence[Miss], square: float) -> list[float]:
    return [owed_to_runs(m.size, m.gain**2 * square, m.other) / m.gain for m in misses]


def owed_to_runs(miss: float, run: float, other: float) -> float:
    """Root of the expected square of the runs' part of a miss, when their variance is `run` and the rest's `other`.

    Given the miss d the runs' part is Gaussian with mean w d and variance run (1 - w), w = run / (run + other); so its
    expected square is w^2 d^2 + run (1 - w), which averages to `run` when that is right.
    """
    if run == 0.0 and other == 0.0:
        return abs(miss)
    share = run / (run + other)
    return math.sqrt((share * miss) ** 2 + run * (1.0 - share))


def _start(rows: Sequence[Observed]) -> Scatter:
    sources = [found[0] for row in rows if (found := run_source(row.x)) is not None]
    least = min(sources, key=lambda source: (source.dof, source.u))
    return Scatter(least.u, least.dof)


def _repeats(history: History, feature: str, check: str) -> Iterator[Miss]:
    """Each run that follows others with no move and no touching event between, against the mean of these.

    (x_k - mean of the k - 1 before) sqrt((k - 1) / k) are independent and have each the variance of one run
    (Helmert's contrasts), so k runs count as k - 1; for two runs it is their difference / sqrt(2).
    """
    known = find_feature(feature)
    drift = known.drift if known is not None else 0.0
    group = _Group(drift)
    for row in history.of(feature):
        if not isinstance(row, Observed):
            group = _Group(drift)
        elif row.check == check:
            if group.n:
                yield group.contrast(row)
            group.take(row)


class _Group:
    """Runs with nothing touched between them, as running sums."""

    def __init__(self, drift: float) -> None:
        self.n = 0
        self._drift = drift
        self._sum = 0.0
        self._readings = 0.0
        self._last: Observed | None = None

    def take(self, row: Observed) -> None:
        self.n += 1
        self._sum += row.x.value
        self._readings += read_variance(row.x)
        self._last = row

    def contrast(self, row: Observed) -> Miss:
        shrink = self.n / (self.n + 1.0)
        days = (row.at - self._last.at).total_seconds() / DAY if self._last is not None else 0.0
        readings = read_variance(row.x) + self._readings / self.n**2
        size = (row.x.value - self._sum / self.n) * math.sqrt(shrink)
        return Miss(size, _gain(row), shrink * (readings + self._drift**2 * days))


def _gain(row: Observed) -> float:
    found = run_source(row.x)
    return abs(found[1]) if found is not None else 1.0


def _foretold(history: History, feature: str, check: str, scatter: Scatter) -> Iterator[Miss]:
    """Every run that the filter had foretold closely, though something was turned before it."""
    known = find_feature(feature)
    if known is None or not known.adjustable:
        return
    followed = follow(history.of(feature), known, {check: scatter})
    for residual in followed.residuals if followed is not None else ():
        if residual.check == check and not residual.untouched and residual.run_share >= LEAST_SHARE:
            run = residual.run_share * residual.sd**2
            yield Miss(residual.miss, math.sqrt(run) / scatter.s, residual.sd**2 - run)
