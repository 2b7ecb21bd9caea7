"""How a move is ordered: the part that is taken in hand, and which way it goes.

A direction alone (`up`, `away`) names no part; where one check finds two things to turn, it might be the other one.
"""

from __future__ import annotations

from trued.standing.feature import find_feature


def order_said(feature: str, direction: str, directions: tuple[str, str] | None) -> str:
    """`raise the outer edge of the wing`; for a feature that has no words of its own the direction itself."""
    known = find_feature(feature)
    pair = known.orders if known is not None else None
    if pair is None or directions is None or direction not in directions:
        return direction.replace("-", " ")
    return pair[directions.index(direction)]
