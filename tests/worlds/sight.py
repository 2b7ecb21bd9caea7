"""A plate against its flange, a line above the work, an eye: what a cut leaves beyond its mark. Inches.

Seen along the cut: x across, 0 at the face of the fixed flange, up is z. Nothing of the product is used here.
"""

from __future__ import annotations

from dataclasses import dataclass

from tests.worlds.polygon import Polygon, clip


@dataclass
class Blade:
    kerf: float
    plate: float
    flange: str = "left"

    def teeth(self) -> tuple[float, float]:
        """Where the teeth cut, left and right: the plate lies against the flange, on the side of the nut."""
        away = 1.0 if self.flange == "left" else -1.0
        ends = (away * (self.plate - self.kerf) / 2.0, away * (self.plate + self.kerf) / 2.0)
        return min(ends), max(ends)


@dataclass
class Sight:
    blade: Blade
    keeper: str
    line: float
    above: float = 0.0
    eye: tuple[float, float] = (0.0, 18.0)

    def brought(self) -> float:
        """The place on the work that the eye sees behind the line: from the eye through the line to the work."""
        ex, ez = self.eye[0] + self.line, self.eye[1]
        return ex + (self.line - ex) * ez / (ez - self.above)

    def cut(self, to_mark: float, off: float = 0.0) -> float:
        """Length of the keeper of a board whose mark, `to_mark` from its end, is brought to the line (and `off`)."""
        k = -1.0 if self.keeper == "left" else 1.0
        mark = self.brought() + off
        left, right = self.blade.teeth()
        ends = sorted((mark + k * to_mark, mark - k * 3.0))
        board: Polygon = [(ends[0], 0.0), (ends[1], 0.0), (ends[1], 1.0), (ends[0], 1.0)]
        kept = clip(board, (-k, 0.0), -k * (left if self.keeper == "left" else right))
        xs = [x for x, _ in kept]
        return max(xs) - min(xs)

    def set_line(self) -> None:
        """To the edge of the kerf on the keeper's side."""
        left, right = self.blade.teeth()
        self.line = left if self.keeper == "left" else right
