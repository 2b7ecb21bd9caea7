"""How a procedure repeats with one fixture: a start of common practice that gives way to what this shop shows."""

from __future__ import annotations

import math
from dataclasses import dataclass

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.repeats.repeat_runs import Innovation
from trued.standing.repeats.variance_update import attributed_dof


@dataclass(frozen=True, slots=True)
class Repeatability:
    """`scatter` is known now: from `start`, and from `dof` degrees of freedom seen here with the sum of `squares`.

    The start speaks of other shops. It counts in full until this shop has shown as many degrees of freedom as it is
    worth itself, and from there on the less the more were shown: a shop that repeats worse than others would else be
    told intervals that are too narrow for years (docs/virtual-shop.md).
    """

    start: EstimatedSd
    scatter: EstimatedSd
    dof: float = 0.0
    squares: float = 0.0

    @classmethod
    def begin(cls, start: EstimatedSd) -> Repeatability:
        """Before anything was seen here."""
        return cls(start, start)

    def begun_anew(self, start: EstimatedSd) -> Repeatability:
        """With another start: what was seen here since stays."""
        return self._known(start, self.dof, self.squares, self.scatter.seen, self.scatter.pairs)

    def learn(self, miss: Innovation, *, pair: bool) -> Repeatability:
        """After one more miss; `pair`: nothing was touched before it."""
        known = self.scatter
        more, square = attributed_dof(known, miss)
        return self._known(self.start, self.dof + more, self.squares + square, known.seen + 1, known.pairs + pair)

    def _known(self, start: EstimatedSd, dof: float, squares: float, seen: int, pairs: int) -> Repeatability:
        worth = start.dof**2 / max(start.dof, dof)
        s = math.sqrt((worth * start.s**2 + max(squares, 0.0)) / (worth + dof))
        return Repeatability(start, EstimatedSd(s, worth + dof, seen, pairs), dof, squares)
