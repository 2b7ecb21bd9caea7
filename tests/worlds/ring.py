"""Pieces that the simulated sled mitres at both ends, laid round in a ring, joint on joint; inches.

Nothing of the product is used here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tests.worlds.polygon import Point, Polygon, direction, shift, turn
from tests.worlds.sled import Sled


@dataclass
class Piece:
    """A mitred piece: its outer edge from `start` to `end` with the body on the left, and the two inner corners."""

    start: Point
    end: Point
    inner_end: Point
    inner_start: Point

    @property
    def length(self) -> float:
        return math.dist(self.start, self.end)

    def moved(self, rad: float, by: Point) -> Piece:
        return Piece(*shift(turn([self.start, self.end, self.inner_end, self.inner_start], rad), by))


def mitred(sled: Sled, width: float, seats: tuple[float, float] = (0.0, 0.0), more: float = 0.0) -> Piece:
    """Both ends of a strip cut at the sled's angle, the strip turned over end for end between the cuts."""
    board: Polygon = [(0.0, 0.0), (16.0, 0.0), (16.0, width), (0.0, width)]
    n = 0
    for seat, trim in zip(seats, (width + 2.0, width + 3.0 - more), strict=True):
        board, _, _ = sled.cut(board, (board[n], board[(n + 1) % 4]), trim, seat)
        board = [(-x, y) for x, y in reversed(board)]
        n = _at_fence(board, sled)
    outer = max(range(4), key=lambda i: math.dist(board[i], board[(i + 1) % 4]))
    a, b, c, d = (board[(outer + i) % 4] for i in range(4))
    return Piece(a, b, c, d)


def _at_fence(board: Polygon, sled: Sled) -> int:
    """The edge that lay at the fence before the board was turned over: the mirror of the fence's line."""
    nx, ny = sled.f * math.sin(sled.lean), sled.f * math.cos(sled.lean)
    return max(range(4), key=lambda i: sum(nx * p[0] + ny * p[1] for p in (board[i], board[(i + 1) % 4])))


@dataclass
class Joint:
    """What the last joint leaves open, square to it; `where` is inside or outside, `error` the angle, rad."""

    gap: float
    where: str
    error: float


def last_joint(pieces: Sequence[Piece]) -> Joint:
    """Each piece laid with its start face on the end face of the one before; what is left between last and first."""
    placed = [pieces[0]]
    for piece in pieces[1:]:
        before = placed[-1]
        rad = direction(before.end, before.inner_end) - direction(piece.start, piece.inner_start)
        turned = piece.moved(rad, (0.0, 0.0))
        placed.append(turned.moved(0.0, (before.end[0] - turned.start[0], before.end[1] - turned.start[1])))
    first, last = placed[0], placed[-1]
    wedge = math.remainder(direction(last.end, last.inner_end) - direction(first.start, first.inner_start), 2 * math.pi)
    face = math.dist(last.end, last.inner_end)
    return Joint(face * math.sin(abs(wedge)), "inside" if wedge > 0.0 else "outside", wedge)
