"""A groove cut by several passes of one blade, as stretches that are taken away. Inches; nothing of the product."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise


@dataclass
class Groove:
    """`at`: where each pass cuts from; every pass takes `kerf`."""

    kerf: float
    at: list[float]

    @classmethod
    def cut(cls, kerf: float, count: int, step: float) -> Groove:
        return cls(kerf, [n * step for n in range(count)])

    @property
    def width(self) -> float:
        return max(self.at) + self.kerf - min(self.at)

    @property
    def ridges(self) -> list[float]:
        """What is left standing between neighbouring passes."""
        ordered = sorted(self.at)
        return [b - a - self.kerf for a, b in pairwise(ordered) if b - a > self.kerf + 1e-12]

    def one_more(self, by: float) -> None:
        """The stop moved on by that much from the last pass, and one more pass."""
        self.at.append(max(self.at) + by)
