"""How likely one more run is to prove a feature in: left as it is, or after the best move."""

from __future__ import annotations

import math
from statistics import NormalDist

from trued.measure.decision import LEVEL, Limits
from trued.measure.student import t_quantile
from trued.shop.believed import Believed
from trued.shop.filter import Belief
from trued.shop.shared import split

_NORMAL = NormalDist()


def target_of(limits: Limits | None) -> float:
    """Where a feature is best: the middle of its limits, else nought, or the one limit that nought lies beyond."""
    if limits is None:
        return 0.0
    if limits.low is not None and limits.high is not None:
        return 0.5 * (limits.low + limits.high)
    return max(0.0, limits.low or 0.0) if limits.low is not None else min(0.0, limits.high or 0.0)


def half_of(limits: Limits) -> Limits | None:
    """Limits half as wide about the same middle; None where a side is open."""
    if limits.low is None or limits.high is None:
        return None
    middle, quarter = 0.5 * (limits.low + limits.high), 0.25 * (limits.high - limits.low)
    return Limits(middle - quarter, middle + quarter)


def proven_after(believed: Believed, limits: Limits, u: float = 0.0, settling: float = 0.0) -> float:
    """Chance that it is proven in by one more run, made after the move u (0: with nothing touched)."""
    parts = split(believed.track.last.x, believed.scatter)
    dof = believed.scatter.dof if believed.scatter is not None else math.inf
    total = 0.0
    for branch in believed.response.branches:
        belief = branch.belief.moved(u, settling) if u else branch.belief
        total += branch.chance * _proven(belief, parts.own, limits, dof)
    return total


def _proven(belief: Belief, r: float, limits: Limits, dof: float) -> float:
    """The mean after the run is normal about x with variance xx - s^2, where s^2 = xx r / (xx + r) is left then."""
    if belief.xx + r <= 0.0:
        return float(limits.hold(belief.x))
    left = belief.xx * r / (belief.xx + r)
    margin = t_quantile(LEVEL, round(dof, 2)) * math.sqrt(left)
    sd = math.sqrt(max(belief.xx - left, 1e-30))
    low = -math.inf if limits.low is None else limits.low + margin
    high = math.inf if limits.high is None else limits.high - margin
    if low >= high:
        return 0.0
    return _NORMAL.cdf((high - belief.x) / sd) - _NORMAL.cdf((low - belief.x) / sd)
