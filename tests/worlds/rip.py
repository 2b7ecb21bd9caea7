"""A board fed along a rip fence: where its edge touches, how far the teeth are from it. Inches.

The fence is the line x = 0, `before` inches of it before the front teeth and `beyond` behind them; the teeth cut at
x = setting. `edge` is how far the board's edge stands out toward the fence, by the distance from its leading end.
Nothing of the product is used here.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise


def straight(_s: float) -> float:
    return 0.0


@dataclass
class Rip:
    setting: float
    length: float
    before: float = 12.0
    beyond: float = 12.0
    toe: float = 0.0
    edge: Callable[[float], float] = straight
    off_fence: Callable[[float], float] = straight

    def width(self, s: float) -> float:
        """Of the strip at that distance from its leading end, when that place is at the teeth."""
        low, high = max(0.0, s - self.beyond), min(self.length, s + self.before)
        places = sorted({low, high, s, *(low + (high - low) * n / 80 for n in range(81))})
        hull: list[tuple[float, float]] = []
        for point in ((p, self.edge(p)) for p in places):
            while len(hull) > 1 and _between(hull[-2], point, hull[-1][0]) >= hull[-1][1]:
                hull.pop()
            hull.append(point)
        touches = max(_between(a, b, s) for a, b in pairwise(hull) if a[0] <= s <= b[0])
        return self.setting * math.cos(self.toe) - (touches - self.edge(s)) - self.off_fence(s)


def _between(a: tuple[float, float], b: tuple[float, float], at: float) -> float:
    return a[1] + (b[1] - a[1]) * (at - a[0]) / (b[0] - a[0])
