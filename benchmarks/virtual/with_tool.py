"""A person who does exactly what the standing says, through the tool's public functions alone.

Readings are typed, worked out by the check, and put into a history with the moves as they were really made.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from benchmarks.virtual.sled import Sled
from benchmarks.virtual.told import MOST_RUNS, TOLERANCE, Told

import trued.checks  # noqa: F401  # tells the core the features that the checks declare
from trued.advice.statuses import standings
from trued.checks import find_check
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import interval
from trued.measure.instrument import Instrument
from trued.procedure import take
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.history.history import Adjustment, History, Result, ShopEvent

FENCE = "sled.fence-angle@0"
BEGIN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
CALIPER = Instrument(
    "caliper-1", "caliper", 0.0127, 0.0254, EstimatedSd(0.0147, 10), digital=True, source="as its person says"
)
CHECK = find_check("five-cut")
assert CHECK.between_runs is not None  # noqa: S101 -- the check declares it
STARTS: Mapping[str, EstimatedSd] = {CHECK.id: CHECK.between_runs.start}
LIMITS = {FENCE: ToleranceLimits.within(TOLERANCE)}


class Person:
    """One person with a book; keeps what was found, turned and what happened, and reads the standing."""

    def __init__(self, sled: Sled) -> None:
        self.sled = sled
        self.now = BEGIN
        self._observed: list[Result] = []
        self._moved: list[Adjustment] = []
        self._happened: list[ShopEvent] = []

    def wait(self, *, minutes: float = 0.0, days: float = 0.0) -> None:
        """Time goes by, for the book too."""
        self.now += timedelta(minutes=minutes, days=days)

    def run(self) -> None:
        """One five-cut run, typed and kept."""
        self.wait(minutes=15.0)
        taken = take(CHECK, self.sled.five_cut(), {}, instruments=(CALIPER,), unit="in")
        (found,) = CHECK.evaluate(taken)
        run = f"run-{len(self._observed):04d}"
        self._observed.append(Result(self.now, FENCE, "rad", found.value, CHECK.id, run, found.limits))

    def turn(self, u: float, approach: int) -> float:
        """Turn the screw as near to u as feelers go, and keep what was really turned."""
        self.wait(minutes=5.0)
        u = self.sled.can_turn(u)
        self.sled.turn(u, approach)
        way = "open" if u > 0 else "close"
        self._moved.append(Adjustment(self.now, FENCE, abs(u), way, id=f"move-{len(self._moved):04d}"))
        return u

    def event(self, kind: str) -> None:
        """Something happened, and was told."""
        self._happened.append(ShopEvent(self.now, kind, id=f"event-{len(self._happened):04d}"))

    def history(self) -> History:
        """All that was kept."""
        return History(tuple(self._observed), tuple(self._moved), tuple(self._happened))

    def standing(self) -> FeatureStatus:
        """What is known of the fence now. What is asked is answered truthfully: everything was typed as it was."""
        (standing,) = standings(self.history(), self.now, limits=LIMITS, starts=STARTS)
        if standing.asked is not None:
            self._observed[-1] = replace(self._observed[-1], right=True)
            (standing,) = standings(self.history(), self.now, limits=LIMITS, starts=STARTS)
        return standing

    def set_true(self) -> Told:
        """One session: run, do what is said, until it is left."""
        told = Told()
        for _ in range(MOST_RUNS):
            self.run()
            told.runs += 1
            standing = self.standing()
            if standing.asked is not None:  # nobody mixes anything up here
                about = standing.asked.about
                self._observed = [replace(row, right=True) if row.run == about else row for row in self._observed]
                standing = self.standing()
            low, high = interval(standing.x)
            told.held.append(low <= self.sled.x <= high)
            then = standing.next
            assert then is not None  # noqa: S101 -- there is a tolerance
            if then.do is ActionKind.LEAVE:
                told.proven = standing.decision is Conformity.PROVEN_IN
                told.stated = standing.chance_in
                return told.ended(self.sled.x, "proven in" if told.proven else "left")
            if then.do is ActionKind.MOVE:
                self._do(standing, told)
        return told.ended(self.sled.x, "gave up")

    def _do(self, standing: FeatureStatus, told: Told) -> None:
        then = standing.next
        assert then is not None and then.amount is not None  # noqa: S101 -- a move has its amount
        sign = 1.0 if then.direction == "open" else -1.0
        before = self.sled.x
        self.turn(sign * then.amount, approach_of(standing))
        told.turned(before, self.sled.x)


def approach_of(standing: FeatureStatus) -> int:
    """From which side the advice says to come: +1 by opening, -1 by closing, 0 when it says nothing."""
    approach = standing.next.approach if standing.next is not None else ""
    return {"open": 1, "close": -1}.get(approach, 0)
