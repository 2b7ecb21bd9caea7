"""A feature that no filter follows: its findings since it was last touched, pooled; doubt added for what came after."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from datetime import datetime

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue, linear
from trued.standing.error_split import own_run
from trued.standing.feature import find_feature, said
from trued.standing.pooled.least_squares_pool import pooled, pooled_pair, pooled_spread
from trued.standing.pooled.pooled_feature import PooledFeature
from trued.standing.random_walk import walk_sd
from trued.standing.repeats.repeat_runs import DAY

ScatterOf = Callable[[str], EstimatedSd | None]


def pooled_estimate(epoch: PooledFeature, now: datetime, scatter: ScatterOf) -> UncertainValue:
    """The feature now: pooled findings, moved as told, with a source for each doubt since."""
    findings, known = list(_findings(epoch, scatter).values()), find_feature(epoch.last.feature)
    spread = known is not None and known.spread
    return _doubted(pooled_spread(findings) if spread else pooled(findings), epoch, now)


def plain_pair(
    one: PooledFeature, two: PooledFeature, now: datetime, scatter: ScatterOf
) -> tuple[UncertainValue, UncertainValue]:
    """Two features that their runs find together, with the covariance that they have."""
    first, second = pooled_pair(_findings(one, scatter), _findings(two, scatter))
    return _doubted(first, one, now), _doubted(second, two, now)


def _findings(epoch: PooledFeature, scatter: ScatterOf) -> Mapping[str, UncertainValue]:
    return {row.run: own_run(row.x, row.run, scatter(row.check)) for row in epoch.findings}


def _doubted(x: UncertainValue, epoch: PooledFeature, now: datetime) -> UncertainValue:
    feature = epoch.last.feature
    doubts = list(epoch.doubts)
    days, drift = max(0.0, (now - epoch.last.at).total_seconds() / DAY), walk_sd(feature)
    if drift is not None and days > 0.0:
        doubts.append(("time since it was found", drift.s * math.sqrt(days)))
    key = f"since:{feature}"
    terms = [(1.0, x)]
    for number, (text, u) in enumerate(doubts):
        terms.append((1.0, UncertainValue.of(0.0, ErrorSource(f"{key}:{number}", f"{said(feature)}: {text}", u))))
    return linear(x.value + epoch.shift, *terms)
