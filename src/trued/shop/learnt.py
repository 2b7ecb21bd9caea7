"""How far a procedure repeats from run to run with one fixture: itself something that the shop learns.

It begins with what the check takes for usual (few degrees of freedom) and learns from every untouched pair of runs,
and from every run that the filter had foretold. While no untouched pair is on record nothing is proven in.
"""

from __future__ import annotations

import math

from trued.measure.scatter import Scatter
from trued.shop.feature import find_feature, named
from trued.shop.follow import DAY, follow
from trued.shop.history import History, Observed
from trued.shop.shared import read_variance, run_source

LEAST_SHARE = 0.5  # a miss that is mostly owed to something else says nothing of the scatter between runs


def scatter_of(history: History, check: str, fixture: str, start: Scatter | None = None) -> Scatter | None:
    """What is known of the scatter between runs of `check` with `fixture`, in the unit of the feature it teaches.

    start: what the check takes for usual; without it, what the least learned run on record took. None when the
    check has no scatter between runs, or nothing is on record and no start is given.
    """
    rows = [row for row in history.observed if row.check == check and named(row.feature).thing == fixture]
    rows = [row for row in rows if run_source(row.x) is not None]
    if not rows:
        return start
    scatter = start or _start(rows)
    feature = min(row.feature for row in rows)
    scatter = _pairs(history, feature, check, scatter)
    return _foretold(history, feature, check, scatter)


def _start(rows: list[Observed]) -> Scatter:
    sources = [found[0] for row in rows if (found := run_source(row.x)) is not None]
    least = min(sources, key=lambda source: (source.dof, source.u))
    return Scatter(least.u, least.dof)


def _pairs(history: History, feature: str, check: str, scatter: Scatter) -> Scatter:
    """After every two runs in a row with no move and no touching event between them."""
    known = find_feature(feature)
    drift = known.drift if known is not None else 0.0
    before: Observed | None = None
    for row in history.of(feature):
        if not isinstance(row, Observed):
            before = None
        elif row.check == check:
            if before is not None:
                days = (row.at - before.at).total_seconds() / DAY
                other = read_variance(before.x) + read_variance(row.x) + drift**2 * days
                scatter = _learn_pair(scatter, before, row, other / 2.0)
            before = row
    return scatter


def _learn_pair(scatter: Scatter, first: Observed, second: Observed, other: float) -> Scatter:
    """Half the squared difference holds s^2 of the runs and `other` of the readings; only the first is learnt."""
    found = run_source(second.x)
    gain = abs(found[1]) if found is not None else 1.0
    difference = (second.x.value - first.x.value) / math.sqrt(2.0)
    size = owed_to_runs(difference, (gain * scatter.s) ** 2, other) / gain
    return scatter.learn_pair(0.0, size * math.sqrt(2.0))


def owed_to_runs(miss: float, run: float, other: float) -> float:
    """Root of the expected square of the runs' part of a miss, when their variance is `run` and the rest's `other`.

    Given the miss d the runs' part is Gaussian with mean w d and variance run (1 - w), w = run / (run + other); so its
    expected square is w^2 d^2 + run (1 - w), which averages to `run` when that is right.
    """
    if run == 0.0 and other == 0.0:
        return abs(miss)
    share = run / (run + other)
    return math.sqrt((share * miss) ** 2 + run * (1.0 - share))


def _foretold(history: History, feature: str, check: str, scatter: Scatter) -> Scatter:
    """After every run that the filter had foretold closely, though something was turned before it."""
    known = find_feature(feature)
    if known is None or not known.adjustable:
        return scatter
    followed = follow(history.of(feature), known, {check: scatter})
    for residual in followed.residuals if followed is not None else ():
        if residual.check == check and not residual.untouched and residual.run_share >= LEAST_SHARE:
            run = residual.run_share * residual.sd**2
            scatter = scatter.learn((owed_to_runs(residual.miss, run, residual.sd**2 - run),))
    return scatter
