"""How a move is ordered: the part that is taken in hand, and which way it goes.

A direction alone (`up`, `away`) names no part; where one check finds two things to turn, it might be the other one.
"""

from __future__ import annotations

from trued.standing.feature import bare_name

_ORDERS = {
    "fence-angle": ("open the corner at the keeper", "close the corner at the keeper"),
    "detent-angle": ("open the corner at this detent", "close the corner at this detent"),
    "bevel@0": ("tilt the top of the blade away from the keeper", "tilt the top of the blade toward the keeper"),
    "bevel@45": ("tilt the blade more upright", "tilt the blade further over"),
    "stop-offset": ("move the cursor so it reads more", "move the cursor so it reads less"),
    "wing-step": ("raise the wing at its joint", "lower the wing at its joint"),
    "wing-droop": ("raise the outer edge of the wing", "lower the outer edge of the wing"),
    "blade-parallel": ("move the back of the blade toward the slot", "move the back of the blade away from the slot"),
    "rip-toe": (
        "move the back of the rip fence toward the blade",
        "move the back of the rip fence away from the blade",
    ),
}
"""By feature, for the first of its two directions and for the second."""


def order_said(feature: str, direction: str, directions: tuple[str, str] | None) -> str:
    """`raise the outer edge of the wing`; for a feature that has no words of its own the direction itself."""
    pair = _ORDERS.get(bare_name(feature))
    if pair is None or directions is None or direction not in directions:
        return direction.replace("-", " ")
    return pair[directions.index(direction)]
