"""A table and a wing as planes, probed from a straightedge that is pressed on the table; mm. Nothing of the product.

x grows outward from the joint, y from the operator's end to the far end.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tests.worlds.straightedge import rest

PLACES = {"operator": 0.05, "middle": 0.5, "far": 0.95}


@dataclass
class Wing:
    """`step`: how far its inner edge lies below the table, `lean`: how far it falls for each mm outward; both at the
    operator's end and at the far end. `sag` is what its outer edge gives under the load."""

    step: tuple[float, float]
    lean: tuple[float, float]
    sag: float = 0.0
    width: float = 305.0
    along: float = 457.0
    joint: float = 6.0
    outer: float = 300.0

    def below(self, x: float, y: float, *, loaded: bool = False) -> float:
        t = y / self.along
        step, lean = (a + (b - a) * t for a, b in (self.step, self.lean))
        return step + lean * x + (self.sag * x / self.width if loaded else 0.0)

    def raise_joint(self, by: float) -> None:
        self.step = (self.step[0] - by, self.step[1] - by)

    def raise_outer(self, by: float) -> None:
        self.lean = (self.lean[0] - by / self.width, self.lean[1] - by / self.width)


def reach(own: Callable[[float], float], on_table: float = 305.0) -> Callable[[float], float]:
    """How far a straightedge's edge stands above the table's plane at x, pressed on the table in the middle.

    `own`: its hollow, by the distance from its end on the table.
    """
    start, slope = rest([(on_table * n / 60, own(on_table * n / 60)) for n in range(61)])
    return lambda x: own(on_table + x) - start - slope * (on_table + x)


def gaps(wing: Wing, own: Callable[[float], float], place: str, *, loaded: bool = False) -> tuple[float, float]:
    """(close to the joint, at the outer edge): above nought where the wing lies lower than the straightedge."""
    y, above = PLACES[place] * wing.along, reach(own)
    near, far = (wing.below(x, y, loaded=loaded) + above(x) for x in (wing.joint, wing.outer))
    return near, far
