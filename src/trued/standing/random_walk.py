"""How far a feature wanders by itself, before this shop has shown it: common practice.

Standard deviation that one day adds, in the feature's unit; it grows with the root of the days. What is not named here
is not taken to wander: it is looked at again after an event alone.
"""

from __future__ import annotations

import math

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.feature import bare_name

_MIL, _QUARTER = 0.0254, math.sqrt(90.0)

DRIFT: dict[str, float] = {
    "fence-angle": 0.001 / 12.0 / _QUARTER,  # 0.001 in per foot in three months
    "detent-angle": math.radians(0.005) / _QUARTER,
    "stop-offset": 2.0 * _MIL / _QUARTER,
    "bevel@0": math.radians(0.02) / _QUARTER,
    "bevel@45": math.radians(0.02) / _QUARTER,
    "blade-parallel": 0.5 * _MIL / 178.0 / _QUARTER,
    "rip-toe": 0.5 * _MIL / _QUARTER,
    "rip-offset": 4.0 * _MIL / _QUARTER,
    "wing-step": 4.0 * _MIL / _QUARTER,
    "insert-operator-keeper": 1.0 * _MIL / _QUARTER,
    "insert-operator-offcut": 1.0 * _MIL / _QUARTER,
    "insert-far-keeper": 1.0 * _MIL / _QUARTER,
    "insert-far-offcut": 1.0 * _MIL / _QUARTER,
    "bar-play": 0.5 * _MIL / _QUARTER,
    "fence-straight": 0.5 * _MIL / _QUARTER,
    "fence-upright": 1e-4 / _QUARTER,
}
KNOWN_LIKE = 4.0  # runs: how well these figures are known
LEAST_DAYS = 7.0  # apart; findings of one week say little of it


def walk_sd(feature: str) -> EstimatedSd | None:
    """What a day adds, to start with; None where it is not taken to wander."""
    size = DRIFT.get(bare_name(feature))
    return EstimatedSd(size, KNOWN_LIKE) if size else None
