"""How far a feature wanders by itself, before this shop has shown it: common practice.

Standard deviation that one day adds, in the feature's unit; it grows with the root of the days. A feature that declares
no drift is not taken to wander: it is looked at again after an event alone.
"""

from __future__ import annotations

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.feature import find_feature

KNOWN_LIKE = 4.0  # runs: how well these figures are known
LEAST_DAYS = 7.0  # apart; findings of one week say little of it


def walk_sd(feature: str) -> EstimatedSd | None:
    """What a day adds, to start with; None where it is not taken to wander."""
    known = find_feature(feature)
    return EstimatedSd(known.drift, KNOWN_LIKE) if known is not None and known.drift else None
