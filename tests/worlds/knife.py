"""Plate, kerf and riving knife across the saw as intervals; inches. Nothing of the product is used here.

x toward the keeper's side, the blade's plane at 0.
"""

from __future__ import annotations

from dataclasses import dataclass

Interval = tuple[float, float]


@dataclass
class Knife:
    thick: float = 0.100
    plate: float = 0.087
    kerf: float = 0.125
    aside: float = 0.0
    to_teeth: float = 0.2

    def body(self) -> Interval:
        return self.aside - self.thick / 2.0, self.aside + self.thick / 2.0

    def cut(self) -> Interval:
        return -self.kerf / 2.0, self.kerf / 2.0

    def gap(self, side: str) -> float:
        """Between the knife and a straightedge along the teeth; below 0 where the knife stands out past it."""
        (left, right), (low, high) = self.body(), self.cut()
        return high - right if side == "keeper" else left - low

    def room(self) -> float:
        """What the knife may move to its tighter side before it stands out of the kerf."""
        (left, right), (low, high) = self.body(), self.cut()
        return min(high - right, left - low)

    def shim(self, toward: str, by: float) -> None:
        self.aside += by if toward == "keeper's" else -by
