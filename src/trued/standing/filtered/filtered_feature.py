"""One adjustable feature followed row by row through its findings, moves, events and days."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from datetime import datetime

from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource
from trued.standing.error_split import ErrorSplit, shared_covariance, split
from trued.standing.feature import Feature, find_feature
from trued.standing.filtered.gain_mixture import HYPOTHESES, ORDINARY, GainMixture
from trued.standing.filtered.kalman import GaussianState
from trued.standing.filtered.observed_gain import MOST, ObservedGain
from trued.standing.filtered.slip import ASKED_UNDER, QUICK, Arm, Case, Slip, Turned, right, to_ask, weigh
from trued.standing.history.event import EVENTS
from trued.standing.history.history import Adjustment, Result, ShopEvent
from trued.standing.outlier import NEVER_RARE, OTHER_CHECK, SAME_CHECK, Outlier, is_outlier
from trued.standing.random_walk import LEAST_DAYS
from trued.standing.repeats.repeat_runs import DAY, Innovation, RepeatRuns

LEAST_SHARE = 0.25  # a miss that is mostly owed to something else says next to nothing of the scatter
SLIP = 10.0  # settlings that a lock goes when it slips; common practice
SURE_SLIP = 0.5
EARLIER = "disagrees with earlier runs"
LATER = "disagrees with later runs"
ASKED = "it waits for an answer"


MOST_AFTER = 3  # runs after a move: more of them tell nothing new of it (the sessions of docs/slips.md come out alike)


@dataclass(frozen=True, slots=True)
class Looked:
    """An arm with its cases; both empty where there is nothing to weigh."""

    arm: Arm | None = None
    cases: tuple[Case, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether nothing is to be learnt of the screw by it: after moves where it is not likely that all is right;
        with nothing recorded where a slip explains it. (A run that only disagrees is set aside.)"""
        if self.arm is None:
            return False
        return right(self.cases) < ASKED_UNDER if self.arm.moves else self.slip is not None

    @property
    def slip(self) -> Slip | None:
        """What is asked about first; None where there is nothing to ask, or no slip that explains it."""
        return to_ask(self.cases) if self.cases else None


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a finding taught: a miss of this check's scatter (`pair`: nothing was touched), of the doubt of an event,
    or of the days; None where it says nothing."""

    scatter: Innovation | None = None
    pair: bool = False
    event: tuple[str, Innovation] | None = None
    days: Innovation | None = None


@dataclass(slots=True)
class FilteredFeature:
    """Where following has led. `touched`, `events` and `moved` tell what came after the last finding that counts.

    response: what is believed, from one case of what a move does. cases: the same runs in all cases, side by side: they
    give what is wrong with the moves its name, and while they are at odds a checking move comes first (`advice.py`);
    nothing that is believed of the feature rests on them, but for a lock that slipped, which teaches no scatter.
    shared: how far the errors that runs share move what is believed. checks: those that found it since it was
    touched. drift: what a day adds. turned: moves since the last finding. arrivals: what arrived of the last moves.
    """

    response: GainMixture
    cases: GainMixture
    last: Result
    at: datetime
    since: datetime
    drift: EstimatedSd | None
    group: RepeatRuns
    shared: dict[ErrorSource, float]
    checks: tuple[str, ...]
    findings: int = 1
    runs: int = 1
    touched: tuple[str, ...] = ()
    events: tuple[str, ...] = ()
    moved: bool = False
    any_move: bool = False
    aside: tuple[Outlier, ...] = field(default=())
    turned: float = 0.0
    settling: float = 0.0
    arrivals: tuple[ObservedGain, ...] = field(default=())
    turns: tuple[Turned, ...] = field(default=())
    before: GainMixture | None = None
    arm: Arm | None = None
    after: GainMixture | None = None
    held: bool = False

    @classmethod
    def begin(cls, row: Result, scatter: EstimatedSd | None, drift: EstimatedSd | None) -> FilteredFeature:
        """After the first finding: nothing was known before it (the limit of a flat start)."""
        parts = split(row.x, scatter)
        response, cases = (
            GainMixture.first(row.x.value, parts.own, parts.run, some) for some in ((ORDINARY,), HYPOTHESES)
        )
        group = RepeatRuns().with_run(row, parts)
        return cls(response, cases, row, row.at, row.at, drift, group, parts.common, (row.check,))

    @property
    def fresh(self) -> bool:
        """Whether nothing was turned and nothing happened since the last finding."""
        return not (self.touched or self.moved)

    def aged(self, at: datetime) -> GainMixture:
        """The response as it stands at a later time."""
        return self.response.doubted(self._wandered(at))

    def _wandered(self, at: datetime) -> float:
        """Variance that the days until then add."""
        days = (at - self.at).total_seconds() / DAY
        return self.drift.s**2 * days if days > 0.0 and self.drift is not None else 0.0

    def _age(self, at: datetime) -> None:
        self._doubt(self._wandered(at))
        self.at = max(at, self.at)

    def _doubt(self, variance: float) -> None:
        self.response, self.cases = self.response.doubted(variance), self.cases.doubted(variance)

    def move(self, row: Adjustment, feature: Feature) -> None:
        """It was turned."""
        self._age(row.at)
        settling = feature.actuator.settling if feature.actuator is not None else 0.0
        if not self.any_move:  # the play of the screw may lie on either side before it was ever turned
            settling *= math.sqrt(2.0)
        self.before, self.turns = self.before or self.response, (*self.turns, Turned(row.id, row.u))
        self.response = self.response.moved(row.u, settling)
        self.cases = self.cases.moved(row.u, settling, SLIP * settling)
        self.moved = self.any_move = True
        self.turned, self.settling = self.turned + row.u, math.hypot(self.settling, settling)

    def happen(self, row: ShopEvent, doubt: float) -> None:
        """Something happened that adds that doubt (standard deviation)."""
        self._age(row.at)
        self._doubt(doubt**2)
        self.touched = (*self.touched, EVENTS[row.kind].text)
        self.events = (*self.events, row.kind)

    def find(
        self, row: Result, scatter: EstimatedSd | None, own_check: str, doubt: float, *, sure: bool = False
    ) -> Lesson:
        """It was found again; `doubt` is what the one event since then was taken to add. What that taught.

        sure: the person has confirmed it, so that it counts against all that was found before.
        """
        self._age(row.at)
        parts, believed = split(row.x, scatter), self.response.likeliest.belief
        looked = look(self, row, parts, scatter)
        if looked.holds and looked.arm is not None:
            return self._hold(row, parts, looked, looked.arm)
        if self.fresh and self._disagrees(believed, row, parts, scatter):
            self._settle(row, parts, own_check, sure=sure)
            return Lesson()
        variance = believed.xx + parts.own
        gain = believed.xx / variance if variance > 0.0 else 0.0
        self.cases = self.cases.found(row.x.value, parts.own, parts.run)
        lesson = self._lesson(believed, row, parts, doubt)
        self._learn(row, parts, looked)
        self.shared = shared_covariance(((1.0 - gain, self.shared), (gain, parts.common)))
        self._count(row, parts, scatter.dof if scatter is not None and parts.gain else math.inf)
        return lesson

    def _learn(self, row: Result, parts: ErrorSplit, looked: Looked) -> None:
        """From this run; or, where it clears what runs before it were held for, from all of them."""
        arm, after = looked.arm, self.after
        if self.held and arm is not None and arm.n > 1 and after is not None:
            self.response = after.found(arm.found, parts.own / arm.n, parts.run / arm.n)
        else:
            self.after = after if self.fresh else self.response
            self.response = self.response.found(row.x.value, parts.own, parts.run)
        self.arm, self.held = arm, False

    def _hold(self, row: Result, parts: ErrorSplit, looked: Looked, arm: Arm) -> Lesson:
        """A run that may say nothing of where the feature is now is left out until it is answered; with any other it
        begins anew where it was found, and what is believed of the screw stays as it was before the moves."""
        self.arm, self.held, self.findings = arm, True, self.findings + 1
        if looked.slip is Slip.SAME or (looked.slip is Slip.WAY and not arm.moves and arm.n == 1):
            self.aside = (*self.aside, _aside(row, parts, ASKED))
            return Lesson()
        pair = self.group.miss(row, parts, self.drift.s if self.drift is not None else 0.0) if arm.n > 1 else None
        if arm.n == 1 or self.after is None:
            self.after, self.group, self.runs, self.since, self.aside = self.response, RepeatRuns(), 0, row.at, ()
        self.response = self.after.restarted(arm.found, parts.own / arm.n, parts.run / arm.n)
        self.cases = replace(self.cases.restarted(arm.found, parts.own / arm.n, parts.run / arm.n), slip=0.0)
        self.shared = parts.common
        self.group, self.checks = self.group.with_run(row, parts), (row.check,)
        self.runs, self.last = self.runs + 1, row
        self._touched_no_more()
        return Lesson(scatter=pair, pair=pair is not None)

    def _touched_no_more(self) -> None:
        self.touched, self.events, self.moved, self.turned, self.settling = (), (), False, 0.0, 0.0
        self.turns, self.before = (), None

    def rescale(self, check: str, factor: float) -> None:
        """The scatter of that check has come to be known as `factor` times its variance."""
        if self.checks == (check,) and factor != 1.0:
            self.response, self.cases = self.response.rescaled(factor), self.cases.rescaled(factor)
            self.after = self.after.rescaled(factor) if self.after is not None else None

    def _count(self, row: Result, parts: ErrorSplit, dof: float) -> None:
        if self.fresh:
            self.runs += 1
            self.checks = self.checks if row.check in self.checks else (*self.checks, row.check)
            self.group = self.group.with_run(row, parts)
            self._arrived_again()
        else:
            self._arrived(row, parts, dof)
            self.runs, self.since, self.checks, self.aside = 1, row.at, (row.check,), ()
            self.group = RepeatRuns().with_run(row, parts)
        self.findings += 1
        self.last = row
        self._touched_no_more()

    def _arrived(self, row: Result, parts: ErrorSplit, dof: float) -> None:
        """The first finding after moves tells what arrived of them, where nothing else happened."""
        before = self.group
        too_little = abs(self.turned) <= self.settling  # lost in how it settles
        if too_little or self.events or before.check != row.check:
            return
        mean = before.total / before.n
        arrival = ObservedGain(self.turned, row.at, mean, before.n, row.x.value, parts.own, self.settling, dof=dof)
        self.arrivals = (*self.arrivals[-MOST + 1 :], arrival)

    def _arrived_again(self) -> None:
        """Another run with nothing touched tells it better."""
        if self.arrivals and self.arrivals[-1].since == self.since and self.checks == (self.group.check,):
            last = self.arrivals[-1].again(self.group.total / self.group.n, self.group.n)
            self.arrivals = (*self.arrivals[:-1], last)

    def _lesson(self, belief: GaussianState, row: Result, parts: ErrorSplit, doubt: float) -> Lesson:
        """How the finding came out against what was foretold, and what that says of which scatter."""
        miss, variance = row.x.value - belief.x, belief.xx + parts.own
        if self.fresh:
            drift = self.drift.s if self.drift is not None else 0.0
            pair = self.group.miss(row, parts, drift)
            return Lesson(scatter=pair, pair=pair is not None, days=self._of_days(row, miss, variance, drift))
        if len(self.events) == 1 and not self.moved and doubt > 0.0:
            return Lesson(event=(self.events[0], Innovation(miss, 1.0, max(variance - doubt**2, 0.0))))
        told = self.moved and parts.gain and not self.events and self.cases.slipped < SURE_SLIP
        if told and parts.run >= LEAST_SHARE * variance:
            return Lesson(scatter=Innovation(miss, parts.gain, variance - parts.run))
        return Lesson()

    def _of_days(self, row: Result, miss: float, variance: float, drift: float) -> Innovation | None:
        days = (row.at - self.last.at).total_seconds() / DAY
        if drift == 0.0 or days < LEAST_DAYS:
            return None
        return Innovation(miss, math.sqrt(days), max(variance - drift**2 * days, 0.0))

    def _disagrees(self, belief: GaussianState, row: Result, parts: ErrorSplit, scatter: EstimatedSd | None) -> bool:
        miss, variance = row.x.value - belief.x, belief.xx + parts.own
        if abs(miss) <= NEVER_RARE * math.sqrt(variance):
            return False  # what runs share could only excuse it
        common = shared_covariance(((1.0, parts.common), (-1.0, self.shared)))
        variance += sum((c * source.u) ** 2 for source, c in common.items())
        rare = SAME_CHECK if self.checks == (row.check,) else OTHER_CHECK
        dof = scatter.dof if scatter is not None and parts.gain else math.inf
        return is_outlier(miss, math.sqrt(variance), dof, rare)

    def _settle(self, row: Result, parts: ErrorSplit, own_check: str, *, sure: bool) -> None:
        """Set the finding aside; or, where it agrees with one set aside before, or is of the feature's own check
        against others, set those others aside and begin anew with it."""
        agreeing = next((a for a in self.aside if _agree(a, row, parts) and self._stronger(a, row, own_check)), None)
        own = sure or (row.check == own_check and own_check not in self.checks)
        if agreeing is None and not own:
            self.aside = (*self.aside, _aside(row, parts, EARLIER))
            return
        gone = _aside(self.last, split(self.last.x, None), LATER)
        start = agreeing or _aside(row, parts, "")
        begun = start.value, start.own, start.run_variance
        self.response, self.cases = self.response.restarted(*begun), self.cases.restarted(*begun)
        self.shared = parts.common
        if agreeing is not None:
            self.response = self.response.found(row.x.value, parts.own, parts.run)
            self.cases = self.cases.found(row.x.value, parts.own, parts.run)
        self.aside, self.arm, self.held = (*(a for a in self.aside if a is not agreeing), gone), None, False
        self.checks, self.runs, self.findings = (row.check,), 1 if agreeing is None else 2, self.findings + 1
        self.last, self.since, self.group = row, start.at, RepeatRuns().with_run(row, parts)

    def _stronger(self, aside: Outlier, row: Result, own_check: str) -> bool:
        """Two of the feature's own check, or of two different checks, outweigh; two of one lesser check do not."""
        return row.check == own_check or row.check != aside.check or own_check not in self.checks


def _agree(aside: Outlier, row: Result, parts: ErrorSplit) -> bool:
    sd = math.sqrt(aside.own + parts.own)
    return abs(row.x.value - aside.value) <= 3.0 * sd


def _aside(row: Result, parts: ErrorSplit, why: str) -> Outlier:
    common = tuple(parts.common.items())
    return Outlier(row.run, row.check, row.at, row.x.value, parts.own, parts.run, common, why)


def look(track: FilteredFeature, row: Result, parts: ErrorSplit, scatter: EstimatedSd | None) -> Looked:
    """This run against what was believed before it; where it agrees with the runs just before it, together with them
    against what was believed before those."""
    if row.right:
        return Looked()
    own = _arm(track, row, parts, scatter)
    if own is None:
        return Looked()
    looked = Looked(own, _weighed(own))
    last = track.arm
    if last is None or looked.holds or not track.fresh or track.checks != (row.check,):
        return looked if own.moves or looked.cases else Looked()
    if not (last.moves or track.held):
        return looked
    more = replace(last, found=(last.found * last.n + row.x.value) / (last.n + 1), n=last.n + 1)
    return Looked(more, _weighed(more) if track.held or more.n <= MOST_AFTER else ())


def _weighed(arm: Arm) -> tuple[Case, ...]:
    """Nothing is weighed where the run lies where it should: within one standard deviation, and not too soon."""
    b, u = arm.belief, arm.turned
    variance = b.xx - 2.0 * u * b.xg + u * u * b.gg + arm.settling**2 + arm.own / arm.n
    near = (arm.found - (b.x - b.g * u)) ** 2 <= variance
    return () if near and not arm.quick else weigh(arm)


def _arm(track: FilteredFeature, row: Result, parts: ErrorSplit, scatter: EstimatedSd | None) -> Arm | None:
    """None where something happened in between, or another check found it before: then nothing is to be compared."""
    known = find_feature(row.feature)
    if track.events or track.last.check != row.check or known is None or known.actuator is None:
        return None
    belief = (track.before or track.response).likeliest.belief
    minutes = (row.at - track.last.at).total_seconds() / 60.0
    return Arm(
        belief=belief,
        moves=track.turns,
        advised=_advised(belief.x, belief.move_to(_middle(row.limits)), row.limits),
        run_before=track.last.run,
        value_before=track.last.x.value,
        runs_before=track.runs,
        run=row.run,
        found=row.x.value,
        n=1,
        own=parts.own,
        read=parts.readings,
        dof=scatter.dof if scatter is not None and parts.gain else math.inf,
        settling=track.settling,
        usual_settling=known.actuator.settling,
        back=bool(track.arrivals) and track.arrivals[-1].u * track.turned < 0.0,
        previous=replace(track.arm, previous=None)
        if track.turns and track.arm is not None and not track.held
        else None,
        quick=not row.anew and minutes < QUICK * known.minutes,
    )


def _advised(x: float, move: float, limits: ToleranceLimits | None) -> float:
    """The move that was worth telling: none where what was believed lies within the limits."""
    return 0.0 if limits is not None and limits.hold(x) else move


def _middle(limits: ToleranceLimits | None) -> float:
    if limits is None or limits.low is None or limits.high is None:
        return 0.0
    return 0.5 * (limits.low + limits.high)
