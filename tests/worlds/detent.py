"""A pivoting fence that drops into a notch, and an indicator that touches it; inches. Nothing of the product is used.

The fence is a line through its pivot; the indicator's stem runs along a fixed line square to where the fence should be.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass


def still(_sd: float) -> float:
    return 0.0


@dataclass
class Detent:
    """`play`: how far apart it comes to rest from its two sides, rad; `sd`: scatter of one engagement, rad."""

    play: float = 0.0
    sd: float = 0.0
    noise: Callable[[float], float] = still

    def engage(self, way: str) -> float:
        """Where the fence comes to rest, rad from the middle of the notch."""
        return (0.5 if way == "opening" else -0.5) * self.play + self.noise(self.sd)

    @staticmethod
    def shown(rest: float, reach: float) -> float:
        """Where the stem, `reach` from the pivot, meets the fence."""
        return reach * math.tan(rest)
