"""A feature that no filter follows: its findings since it was last touched, and what came after the last of them."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import datetime

from trued.standing.error_split import ErrorSplit
from trued.standing.feature import find_feature
from trued.standing.filtered.gain_mixture import ORDINARY
from trued.standing.history.event import EVENTS
from trued.standing.history.history import Adjustment, Result, ShopEvent
from trued.standing.repeats.repeat_runs import Innovation, RepeatRuns

MOST = 32
"""Findings that count: more than these say hardly more, and the older ones speak of older days."""


@dataclass(slots=True)
class PooledFeature:
    """`findings` count, oldest first. `doubts`: (text, standard deviation) of what came since; `shift`: moves since.
    `aside`: findings that do not count any more, because later ones lie too far from them."""

    findings: tuple[Result, ...]
    since: datetime
    group: RepeatRuns
    touched: tuple[str, ...] = ()
    moved: bool = False
    doubts: tuple[tuple[str, float], ...] = field(default=())
    shift: float = 0.0
    runs: int = 1
    aside: tuple[Result, ...] = ()

    @classmethod
    def begin(cls, row: Result, parts: ErrorSplit) -> PooledFeature:
        """After the first finding."""
        return cls((row,), row.at, RepeatRuns().with_run(row, parts))

    @property
    def last(self) -> Result:
        """The last finding."""
        return self.findings[-1]

    @property
    def fresh(self) -> bool:
        """Whether nothing was turned and nothing happened since the last finding."""
        return not (self.touched or self.moved)

    def find(self, row: Result, parts: ErrorSplit, drift: float) -> Innovation | None:
        """It was found again; how it differs from the runs before it, when nothing was touched between."""
        if not self.fresh:
            self.findings, self.since, self.runs, self.group = (row,), row.at, 1, RepeatRuns().with_run(row, parts)
            self.touched, self.moved, self.doubts, self.shift, self.aside = (), False, (), 0.0, ()
            return None
        miss = self.group.miss(row, parts, drift)
        self.findings, self.runs = (*self.findings[-MOST + 1 :], row), self.runs + 1
        self.group = self.group.with_run(row, parts)
        return miss

    def begin_anew(self, row: Result, parts: ErrorSplit) -> None:
        """It moved and nobody told: what was found before does not count any more."""
        self.aside = (*self.aside, *self.findings)
        self.findings, self.since, self.runs, self.group = (row,), row.at, 1, RepeatRuns().with_run(row, parts)

    def move(self, row: Adjustment) -> None:
        """It was turned."""
        known = find_feature(row.feature)
        settling = known.actuator.settling if known is not None and known.actuator is not None else 0.0
        self.doubts = (*self.doubts, ("a move not yet measured", math.hypot(ORDINARY.u * row.amount, settling)))
        self.moved, self.shift = True, self.shift - row.u

    def happen(self, row: ShopEvent, doubt: float) -> None:
        """Something happened that adds that doubt (standard deviation)."""
        text = EVENTS[row.kind].text
        self.touched, self.doubts = (*self.touched, text), (*self.doubts, (text, doubt))
