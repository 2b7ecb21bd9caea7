"""Lots of virtual fences set by a person who does exactly what the standing says.

Readings are typed, worked out by the check, and taken into what is known; the place is always come to by opening, as
the advice has it. Only public functions of the core are used, in memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import TypeGuard

import numpy as np
from benchmarks.virtual.came import Came
from benchmarks.virtual.lots import ENGAGED_MM, MOST_RUNS, TOLERANCE, Lot

import trued.checks  # noqa: F401  # tells the core the features that the checks declare
from trued.advice.statuses import standings_of
from trued.checks import find_check
from trued.equipment.fixture import Fixture
from trued.equipment.shop import Shop
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import interval
from trued.measure.instrument import DEFAULTS
from trued.procedure import Check, take
from trued.standing.cuts.instruments import with_own_repeat
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.history.history import Adjustment, Result, Row, ShopEvent
from trued.standing.learned.learned_state import LearnedState

FENCE = "sled.fence-angle@0"
EVENT = "screw-touched"
BEGIN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
LIMITS = {FENCE: ToleranceLimits.within(TOLERANCE)}
RUN_MINUTES, MOVE_MINUTES = 15.0, 5.0
FIVE, PLAY, CALIPER = find_check("five-cut"), find_check("bar-play"), find_check("caliper")


def _starts() -> dict[str, EstimatedSd]:
    return {c.id: c.between_runs.start for c in (FIVE, PLAY) if c.between_runs is not None}


class Book:
    """One shop's book in memory, and where its fence really stands."""

    def __init__(self, lot: Lot, shop: int) -> None:
        self._lot, self._one = lot, np.array([shop])
        self._number = shop
        self.now, self._rows = BEGIN, 0
        self._all: list[tuple[Row, ...]] = []
        self.x = float(lot.x[shop])
        self._turned = False
        fixture = Fixture("sled", "crosscut-sled", {"radius": float(lot.radius_mm[shop])})
        self._instrument = replace(DEFAULTS["caliper"], id="caliper-1")
        self._shop = Shop("", "mm", fixtures=(fixture,), instruments=(self._instrument,))
        self.known = LearnedState(starts=_starts())

    def check_play_and_caliper(self) -> None:
        """Bar play and the caliper, as they are done before the five cuts."""
        typed = [
            word
            for (at, long), play in zip(ENGAGED_MM.items(), self._lot.play_mm[:, self._number], strict=True)
            for word in (f"play@{at}={play:.2f}", f"engaged@{at}={long:g}")
        ]
        self._keep(PLAY, typed, "sled", 6.0)
        edge = [f"edge={mm:.2f}" for mm in self._lot.edge_mm[self._number]]
        self._keep(CALIPER, [*("closed=0.00" for _ in range(3)), *edge], "caliper-1", 5.0)
        standings = standings_of(self.known, self.now, shop=self._shop)
        (self._instrument,) = with_own_repeat((self._instrument,), standings)

    def _keep(self, check: Check, typed: Sequence[str], thing: str, minutes: float, angle: str = "") -> None:
        self.now += timedelta(minutes=minutes)
        self._rows += 1
        taken = take(check, typed, {}, instruments=(self._instrument,), unit="mm")
        run = f"run-{self._rows:03d}"
        self._take(
            *(
                Result(
                    self.now,
                    f"{thing}.{found.feature}{angle}",
                    found.unit,
                    found.value,
                    check.id,
                    run,
                    found.limits,
                )
                for found in check.evaluate(taken)
            )
        )

    def _take(self, *rows: Row) -> None:
        self._all.append(rows)
        self.known.take(*rows)

    def _nothing_mixed_up(self, run: str) -> None:
        """The person answers that all was right: nobody makes a slip here."""
        said = [tuple(replace(r, right=True) if _is_run(r, run) else r for r in rows) for rows in self._all]
        self._all, self.known = [], LearnedState(starts=_starts())
        for rows in said:
            self._take(*rows)

    def event(self) -> None:
        """A month later the screw was touched, and it is told."""
        self.now += timedelta(days=30)
        self._rows += 1
        self._take(ShopEvent(self.now, EVENT, "sled", id=f"event-{self._rows:03d}"))
        self.x += float(self._lot.thrown[self._number])

    def set_true(self, session: int) -> Came:
        """One session: run, do what is said, until it is left."""
        came = Came(float(self._lot.yaw[self._number]))
        untouched = 0
        for run in range(MOST_RUNS):
            self._run(session, run)
            came.runs, came.minutes = came.runs + 1, came.minutes + RUN_MINUTES
            untouched += 1
            came.longest = max(came.longest, untouched)
            standing = self.standing()
            if standing.asked is not None:
                self._nothing_mixed_up(standing.asked.about)
                standing, came.asked = self.standing(), came.asked + 1
            low, high = interval(standing.x)
            came.held.append(low <= self.x <= high)
            then = standing.next
            assert then is not None  # noqa: S101 -- there is a tolerance
            if then.do is ActionKind.LEAVE:
                came.ended(self.x, claimed=standing.decision is Conformity.PROVEN_IN)
                return came
            if then.do is ActionKind.MOVE:
                came.turned(self.x)
                self._turn(then.amount or 0.0, then.direction, session, came.moves - 1)
                came.minutes, untouched = came.minutes + MOVE_MINUTES, 0
        came.ended(self.x, claimed=False)
        return came

    def standing(self) -> FeatureStatus:
        """What is known of the fence now."""
        found = standings_of(self.known, self.now, limits=LIMITS, shop=self._shop)
        return next(standing for standing in found if standing.feature == FENCE)

    def _run(self, session: int, run: int) -> None:
        fence, free = self._lot.readings(self._one, np.array([self.x]), session, run)
        typed = [f"fence_end={mm:.2f}" for mm in fence[0]] + [f"free_end={mm:.2f}" for mm in free[0]]
        self._keep(FIVE, [*typed, f"length={self._lot.span_mm[self._number]:.1f}"], "sled", RUN_MINUTES, "@0")

    def _turn(self, amount: float, direction: str, session: int, move: int) -> None:
        wanted = np.array([amount if direction == "open" else -amount])
        u = self._lot.settable(self._one, wanted)
        self.now += timedelta(minutes=MOVE_MINUTES)
        self._rows += 1
        self._take(Adjustment(self.now, FENCE, abs(float(u[0])), direction, id=f"move-{self._rows:03d}"))
        first = np.array([not self._turned])
        self._turned = True
        self.x = float(self._lot.landed(self._one, np.array([self.x]), u, session, move, first)[0])


def _is_run(row: Row, run: str) -> TypeGuard[Result]:
    return isinstance(row, Result) and row.run == run


def sessions(lot: Lot, shops: range) -> dict[str, list[Came]]:
    """Three sessions of each shop: from an empty book, after a told event, and from one with bar play and caliper."""
    came: dict[str, list[Came]] = {name: [] for name in NAMES}
    for shop in shops:
        book = Book(lot, shop)
        came[EMPTY].append(book.set_true(0))
        book.event()
        came[SECOND].append(book.set_true(1))
        book = Book(lot, shop)
        book.check_play_and_caliper()
        came[AFTER].append(book.set_true(0))
    return came


EMPTY, AFTER, SECOND = "empty book", "after bar play and caliper", "second, after an event"
NAMES = (EMPTY, AFTER, SECOND)
