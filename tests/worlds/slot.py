"""A bar in a slot, as rectangles: how far it moves and turns before it touches. Nothing of the product is used here."""

from __future__ import annotations

from dataclasses import dataclass

from tests.worlds.polygon import Polygon, turn


@dataclass
class Slot:
    """Widths in inches; `widths` by distance from the operator's end."""

    widths: dict[float, float]
    bar: float

    def play(self, at: float) -> float:
        return self.widths[at] - self.bar

    def swing(self, at: float, engaged: float) -> float:
        """Most that the engaged part of the bar turns from lying along one wall, by bisection on its corners, rad."""
        rectangle: Polygon = [(0.0, 0.0), (self.bar, 0.0), (self.bar, engaged), (0.0, engaged)]
        low, high = 0.0, 0.1
        for _ in range(60):
            middle = (low + high) / 2
            xs = [x for x, _ in turn(rectangle, -middle)]
            low, high = (middle, high) if max(xs) - min(xs) <= self.widths[at] else (low, middle)
        return low
