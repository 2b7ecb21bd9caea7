"""How a move is ordered: the part that is taken in hand, and which way it goes.

A direction alone (`up`, `away`) names no part; where one check finds two things to turn, it might be the other one.
"""

from __future__ import annotations

from trued.standing.feature import bare_name

_ORDERS = {
    "fence-angle": ("open the fence", "close the fence"),
    "detent-angle": ("open the fence at this detent", "close the fence at this detent"),
    "bevel@0": ("tilt the blade away from the keeper", "tilt the blade toward the keeper"),
    "bevel@45": ("tilt the blade more upright", "tilt the blade further over"),
    "wing-step": ("raise the wing at its joint", "lower the wing at its joint"),
    "wing-droop": ("raise the outer edge of the wing", "lower the outer edge of the wing"),
    "blade-parallel": (
        "bring the far end of the blade toward the slot",
        "bring the far end of the blade from the slot",
    ),
    "rip-toe": ("bring the far end of the rip fence in", "bring the far end of the rip fence out"),
}
"""By feature, for the first of its two directions and for the second."""


def order_said(feature: str, direction: str, directions: tuple[str, str] | None) -> str:
    """`raise the outer edge of the wing`; for a feature that has no words of its own the direction itself."""
    pair = _ORDERS.get(bare_name(feature))
    if pair is None or directions is None or direction not in directions:
        return direction.replace("-", " ")
    return pair[directions.index(direction)]
