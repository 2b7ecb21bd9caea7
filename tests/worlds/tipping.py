"""Sled and work as many small weights over an edge, and the same on two springs. Inches and pounds.

x grows outward: the line about which it would tip is x = edge. Nothing of the product is used here.
"""

from __future__ import annotations

from dataclasses import dataclass

PARTS = 12


@dataclass
class Load:
    """Bodies as (weight, inner end, outer end), each even along its length."""

    bodies: list[tuple[float, float, float]]
    edge: float

    def points(self) -> list[tuple[float, float]]:
        """The bodies in small pieces: (weight, place)."""
        found = []
        for weight, low, high in self.bodies:
            step = (high - low) / PARTS
            found += [(weight / PARTS, low + (n + 0.5) * step) for n in range(PARTS)]
        return found

    @property
    def weight(self) -> float:
        return sum(w for w, _ in self.points())

    def turning(self, press: float = 0.0, at: float = 0.0) -> float:
        """Moment about the edge that holds it down; below 0 it goes over."""
        return sum(w * (self.edge - x) for w, x in self.points()) - press * (at - self.edge)

    def tips(self, press: float = 0.0, at: float = 0.0) -> bool:
        return self.turning(press, at) < 0.0

    def balance(self) -> float:
        """Where one could lift it level, by halving: the pieces turn it one way left of there, the other way right."""
        low, high, points = -100.0, 200.0, self.points()
        for _ in range(48):
            middle = (low + high) / 2
            low, high = (middle, high) if sum(w * (x - middle) for w, x in points) > 0 else (low, middle)
        return (low + high) / 2

    def on_springs(self, span: float, stiffness: float = 500.0) -> float:
        """What the inner of two springs carries: the level h and the slope t that balance force and moment.

        The outer spring stands under the edge, the inner one `span` inside it.
        """
        inner = self.edge - span
        force = self.weight
        moment = sum(w * x for w, x in self.points())
        # k (h + t e) + k (h + t i) = force and k (h + t e) e + k (h + t i) i = moment, solved by elimination
        e, i = self.edge, inner
        a11, a12, a21, a22 = 2.0, e + i, e + i, e * e + i * i
        det = a11 * a22 - a12 * a21
        h = (force / stiffness * a22 - a12 * moment / stiffness) / det
        t = (a11 * moment / stiffness - a21 * force / stiffness) / det
        return stiffness * (h + t * i)
