"""A surface that a straightedge is laid on along its lines; any one unit. Nothing of the product is used here."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tests.worlds.straightedge import Straightedge

ENDS: Mapping[str, tuple[tuple[float, float], tuple[float, float]]] = {
    "operator": ((0, 0), (1, 0)),
    "far": ((0, 1), (1, 1)),
    "keeper": ((0, 0), (0, 1)),
    "offcut": ((1, 0), (1, 1)),
    "diagonal-keeper": ((0, 0), (1, 1)),
    "diagonal-offcut": ((1, 0), (0, 1)),
    "middle-across": ((0, 0.5), (1, 0.5)),
    "middle-along": ((0.5, 0), (0.5, 1)),
    "blade": ((0.6, 0), (0.6, 1)),
}
"""Lines as shares of width and depth, from the operator's keeper corner."""

PROVEN = {"operator": "across", "far": "across", "keeper": "along", "offcut": "along"}


@dataclass
class Surface:
    """`height` by x (keeper to offcut) and y (operator to far)."""

    height: Callable[[float, float], float]
    width: float = 560.0
    depth: float = 500.0

    def at(self, share: tuple[float, float]) -> tuple[float, float, float]:
        x, y = share[0] * self.width, share[1] * self.depth
        return x, y, self.height(x, y)

    def length(self, line: str) -> float:
        (ax, ay, _), (bx, by, _) = (self.at(end) for end in ENDS[line])
        return float(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5)

    def nine(self) -> list[tuple[float, float, float]]:
        return [self.at((i / 2, j / 2)) for i in range(3) for j in range(3)]

    def sag(self, line: str, own: Callable[[float, float], float] = lambda _s, _length: 0.0) -> float:
        """What a straightedge shows on a line: the middle's gap, or less nought the gap at both ends.

        `own(s, length)`: how hollow the straightedge is at s of the length that lies on the surface.
        """
        length = self.length(line)
        (ax, ay), (bx, by) = ENDS[line]

        def face(s: float) -> float:
            t = s / length
            return -self.at((ax + (bx - ax) * t, ay + (by - ay) * t))[2]

        edge = Straightedge(lambda s: own(s, length), length, steps=32)
        first, middle, last = edge.gaps(face, [0.0, length / 2, length])
        return middle - (first + last) / 2
