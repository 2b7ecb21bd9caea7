"""How a procedure repeats with one fixture: a start of common practice that gives way to what this shop shows."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from trued.measure.scatter import Scatter
from trued.shop.group import Miss
from trued.shop.owed import owed


@dataclass(frozen=True, slots=True)
class Repeats:
    """`start`, and what was seen here: `dof` degrees of freedom with the sum of their `squares`, `pairs` untouched.

    The start speaks of other shops. It counts in full until this shop has shown as many degrees of freedom as it is
    worth itself, and from there on the less the more were shown: a shop that repeats worse than others would else be
    told intervals that are too narrow for years (docs/virtual-shop.md).
    """

    start: Scatter
    dof: float = 0.0
    squares: float = 0.0
    seen: int = 0
    pairs: int = 0

    @property
    def scatter(self) -> Scatter:
        """What is known of the scatter now."""
        worth = self.start.dof**2 / max(self.start.dof, self.dof)
        dof = worth + self.dof
        square = (worth * self.start.s**2 + max(self.squares, 0.0)) / dof
        return Scatter(math.sqrt(square), dof, self.start.seen + self.seen, self.start.pairs + self.pairs)

    def learn(self, miss: Miss, *, pair: bool) -> Repeats:
        """After one more miss; `pair`: nothing was touched before it."""
        dof, square = owed(self.scatter, miss)
        return replace(
            self, dof=self.dof + dof, squares=self.squares + square, seen=self.seen + 1, pairs=self.pairs + pair
        )
