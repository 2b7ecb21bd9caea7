"""How a procedure repeats with one fixture: a start of common practice that gives way to what this shop shows."""

from __future__ import annotations

import math
from dataclasses import dataclass

from trued.measure.distribution.standard_deviation import Scatter
from trued.standing.repeats.repeat_runs import Miss
from trued.standing.repeats.variance_update import owed


@dataclass(frozen=True, slots=True)
class Repeats:
    """`scatter` is known now: from `start`, and from `dof` degrees of freedom seen here with the sum of `squares`.

    The start speaks of other shops. It counts in full until this shop has shown as many degrees of freedom as it is
    worth itself, and from there on the less the more were shown: a shop that repeats worse than others would else be
    told intervals that are too narrow for years (docs/virtual-shop.md).
    """

    start: Scatter
    scatter: Scatter
    dof: float = 0.0
    squares: float = 0.0

    @classmethod
    def begin(cls, start: Scatter) -> Repeats:
        """Before anything was seen here."""
        return cls(start, start)

    def begun_anew(self, start: Scatter) -> Repeats:
        """With another start: what was seen here since stays."""
        return self._known(start, self.dof, self.squares, self.scatter.seen, self.scatter.pairs)

    def learn(self, miss: Miss, *, pair: bool) -> Repeats:
        """After one more miss; `pair`: nothing was touched before it."""
        known = self.scatter
        more, square = owed(known, miss)
        return self._known(self.start, self.dof + more, self.squares + square, known.seen + 1, known.pairs + pair)

    def _known(self, start: Scatter, dof: float, squares: float, seen: int, pairs: int) -> Repeats:
        worth = start.dof**2 / max(start.dof, dof)
        s = math.sqrt((worth * start.s**2 + max(squares, 0.0)) / (worth + dof))
        return Repeats(start, Scatter(s, worth + dof, seen, pairs), dof, squares)
