"""What the sign of a feature means, in words: for whoever does not know which way is plus.

The words are those of the check that finds it; a sign without words would have to be learnt by heart.
"""

from __future__ import annotations

from trued.measure.decision import Side, ToleranceLimits
from trued.standing.feature import find_feature


def side_said(feature: str, value: float) -> str:
    """`tight`; "" at 0, and for a feature whose number has one way only."""
    known = find_feature(feature)
    sides = known.sides if known is not None else None
    if sides is None or value == 0.0:
        return ""
    return sides[0] if value > 0.0 else sides[1]


def out_said(feature: str, side: Side, limits: ToleranceLimits | None) -> str:
    """On which side of its limits a feature is out: `tight`, else `more than is allowed`."""
    above = side is Side.ABOVE
    limit = None if limits is None else limits.high if above else limits.low
    beyond_zero = limit is not None and (limit >= 0.0 if above else limit <= 0.0)
    words = side_said(feature, 1.0 if above else -1.0) if beyond_zero else ""
    return words or f"{'more' if above else 'less'} than is allowed"
