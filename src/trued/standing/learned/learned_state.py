"""All that a history teaches, row by row in order: a left fold, so that what is known after a row can be kept and
gone on from, and comes to the same as starting from nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.standing.error_split import run_source, split
from trued.standing.feature import Feature, feature_of, find_feature, full_name, named
from trued.standing.filtered.filtered_feature import FilteredFeature, Lesson
from trued.standing.history.event import EVENTS
from trued.standing.history.history import Adjustment, History, Result, Row, ShopEvent, in_order
from trued.standing.owner import WORK
from trued.standing.pooled.checked_before import CUTS, checked_before, is_swing, start_by_swing
from trued.standing.pooled.pooled_feature import PooledFeature
from trued.standing.random_walk import walk_sd
from trued.standing.repeats.repeat_runs import Innovation
from trued.standing.repeats.repeatability import Repeatability
from trued.standing.repeats.variance_update import updated
from trued.standing.stop_history import OFFSET, SETTING, SLOPE, StopLog
from trued.standing.unconfirmed_runs import APART, Run, agree, confirmed_by_hand, far_apart, lasting, runs_of, without

PAIRS = {"stop-offset": "stop-slope", "stop-slope": "stop-offset"}
"""Features that one run finds together: a vector with its covariance."""
SCREW = "screw-touched"
EVENT_KNOWN_LIKE = 3.0  # times: how well the table of events is known before this shop has shown better

Key = tuple[str, str]


@dataclass(slots=True)
class LearnedState:
    """What is known after the rows so far.

    features: how each stands. repeats: by (check, thing), how it repeats, and `teachers` which feature shows it.
    doubts:   by (event, feature without thing), how far it went at that event. rows: how many were taken, up to `upto`.
    stops:    by thing, all that was cut against its stop.
    held:     by run, what waits to be confirmed. confirmed: runs that the person has confirmed.
    zero_stops: fixtures whose screw moves the stop of their zero alone; of any other it may move every detent.
    """

    starts: Mapping[str, EstimatedSd] = field(default_factory=dict)
    features: dict[str, FilteredFeature | PooledFeature] = field(default_factory=dict)
    repeats: dict[Key, Repeatability] = field(default_factory=dict)
    teachers: dict[Key, str] = field(default_factory=dict)
    doubts: dict[Key, EstimatedSd] = field(default_factory=dict)
    stops: dict[str, StopLog] = field(default_factory=dict)
    rows: int = 0
    upto: datetime | None = None
    upto_id: str = ""
    held: dict[str, Run] = field(default_factory=dict)
    confirmed: tuple[str, ...] = ()
    zero_stops: tuple[str, ...] = ()

    def take_all(self, rows: Iterable[Row]) -> LearnedState:
        """After rows that are in order and later than those before; a run's rows come together."""
        for together in runs_of(rows):
            self.take(*together)
        return self

    def take(self, *rows: Row) -> tuple[Result, ...]:
        """After one more row, or all of one run; the findings that have entered what is believed by it."""
        entered: tuple[Result, ...] = ()
        for row in rows:
            if isinstance(row, Adjustment):
                self._moved(row)
            elif not isinstance(row, Result):
                self._happened(row)
        if found := tuple(row for row in rows if isinstance(row, Result)):
            entered = self._run(found)
        self.rows, self.upto, self.upto_id = self.rows + len(rows), rows[-1].at, rows[-1].id
        return entered

    def _run(self, found: Run) -> Run:
        """A run that is in doubt waits; one that agrees with such a run confirms it."""
        run = found[0].run
        mates = [held for held, rows in self.held.items() if self._agree(rows, found)]
        if not mates and run not in self.confirmed:
            if any(self._far_apart(row) for row in found):
                found = tuple(replace(row, doubts=(*row.doubts, APART)) for row in found)
            if any(row.doubts for row in found):
                if waiting := lasting(found):
                    self.held[run] = waiting
                return ()
        entered = (*(row for mate in mates for row in self.held.pop(mate)), *found)
        for row in entered:
            self._found(row)
        return entered

    def _agree(self, held: Run, found: Run) -> bool:
        first = held[0]
        return agree(held, found, self.scatter(first.check, named(first.feature).thing))

    def scatter(self, check: str, thing: str) -> EstimatedSd | None:
        """What is known of the scatter between runs of a check with a thing; None when it has none to show."""
        return self.shown(check, thing) or self._start(check, thing)

    def shown(self, check: str, thing: str) -> EstimatedSd | None:
        """The same, where a run of that check with that thing is on record."""
        repeats = self.repeats.get((check, thing))
        if repeats is None:
            return None
        teacher = self.features.get(self.teachers.get((check, thing), ""))
        if teacher is None or not checked_before(check, thing, teacher.last, self.features):
            return repeats.scatter
        return replace(repeats.scatter, checked=True)

    def _start(self, check: str, thing: str) -> EstimatedSd | None:
        """What it is taken for before a run has shown anything: by what was checked before, else what is usual."""
        return start_by_swing(check, thing, self.features) or self.starts.get(check)

    def _start_anew(self, thing: str) -> None:
        """The bar swing was found: the repeat of what swings with it starts from that."""
        for check in CUTS:
            key, start = (check, thing), start_by_swing(check, thing, self.features)
            known, state = self.repeats.get(key), self.features.get(self.teachers.get(key, ""))
            if known is None or start is None:
                continue
            self.repeats[key] = after = known.begun_anew(start)
            if isinstance(state, FilteredFeature) and known.scatter.s > 0.0:
                state.rescale(check, (after.scatter.s / known.scatter.s) ** 2)

    def doubt(self, row: ShopEvent, feature: str) -> float | None:
        """The doubt that an event adds to a feature: what it did the last times, the table's before that."""
        table = row.stales(feature)
        learnt = self.doubts.get((row.kind, named(feature).feature))
        return table if table is None or learnt is None else learnt.s

    def _found(self, row: Result) -> None:
        thing = named(row.feature).thing
        if thing == WORK:
            return
        if row.cuts:
            self._cut(row)
        elif self._counted(row):
            return
        key = row.check, thing
        source = run_source(row.x)
        if source is not None and key not in self.repeats:
            start = self._start(row.check, thing) or EstimatedSd(source[0].u, source[0].dof)
            self.repeats[key] = Repeatability.begin(start)
            self.teachers[key] = row.feature
        scatter = self.repeats[key].scatter if source is not None else None
        state = self.features.get(row.feature)
        if isinstance(state, FilteredFeature):
            self._tracked(state, row, key, scatter)
        elif state is not None:
            drift = walk_sd(row.feature)
            if self._far_apart(row):  # two agree on it, or the person has confirmed it
                state.begin_anew(row, split(row.x, scatter))
            else:
                miss = state.find(row, split(row.x, scatter), drift.s if drift is not None else 0.0)
                self._learn(row.feature, key, miss, pair=miss is not None)
        else:
            self.features[row.feature] = _begin(row, scatter)
        if is_swing(row):
            self._start_anew(thing)

    def _sure(self, row: Result) -> bool:
        """The person has confirmed it: nothing found before outweighs it."""
        return row.run in self.confirmed

    def _cut(self, row: Result) -> None:
        """Parts cut against a stop tell of its offset, its slope and how it is set anew, whatever the run was for."""
        parts = named(row.feature)
        log, cuts = self.stops.get(parts.thing) or StopLog(), row.cuts
        if self._sure(row):
            cuts = tuple(one.all_right for one in cuts)
        log = self.stops[parts.thing] = log.with_parts(row.at, parts.angle, row.run, cuts)
        settings = sum(entry.cuts is not None for entry in log.entries)
        for bare in (SLOPE, SETTING) if settings > 1 else (SLOPE,):
            full = full_name(parts.thing, bare, parts.angle)
            told = replace(row, feature=full, unit=feature_of(bare).unit, x=UncertainValue(0.0), limits=None, cuts=())
            state = self.features.get(full)
            if not isinstance(state, PooledFeature):
                self.features[full] = _begin(told, None)
            elif state.last.run != row.run:
                state.find(told, split(told.x, None), 0.0)

    def _counted(self, row: Result) -> bool:
        """Whether its run's parts have told of that feature already; it then keeps what the run says of it."""
        state = self.features.get(row.feature)
        mine = named(row.feature).feature in (SLOPE, SETTING) and isinstance(state, PooledFeature)
        if not mine or not isinstance(state, PooledFeature) or state.last.run != row.run:
            return False
        state.findings = (*state.findings[:-1], row)
        return True

    def _tracked(self, state: FilteredFeature, row: Result, key: Key, scatter: EstimatedSd | None) -> None:
        known = find_feature(row.feature)
        events = state.events
        doubt = self._one_doubt(events[0], row.feature) if len(events) == 1 else 0.0
        own_check = known.check if known is not None else row.check
        lesson = state.find(row, scatter, own_check, doubt, sure=self._sure(row))
        self._learn(row.feature, key, lesson.scatter, pair=lesson.pair)
        if scatter is not None and scatter.s > 0.0:
            state.rescale(row.check, (self.repeats[key].scatter.s / scatter.s) ** 2)
        self._learn_more(state, row.feature, lesson)

    def _learn_more(self, state: FilteredFeature, feature: str, lesson: Lesson) -> None:
        if lesson.days is not None and state.drift is not None:
            state.drift = updated(state.drift, lesson.days)
        if lesson.event is not None:
            kind, miss = lesson.event
            place = kind, named(feature).feature
            known = self.doubts.get(place) or EstimatedSd(self._one_doubt(kind, feature), EVENT_KNOWN_LIKE)
            self.doubts[place] = updated(known, miss)

    def _learn(self, feature: str, key: Key, miss: Innovation | None, *, pair: bool) -> None:
        """A run teaches through one of its features alone, or it would count twice."""
        if miss is None or not miss.gain or named(self.teachers.get(key, "")).feature != named(feature).feature:
            return
        self.repeats[key] = self.repeats[key].learn(miss, pair=pair)

    def _one_doubt(self, kind: str, feature: str) -> float:
        learnt = self.doubts.get((kind, named(feature).feature))
        return learnt.s if learnt is not None else EVENTS[kind].doubt_of(named(feature)) or 0.0

    def _far_apart(self, row: Result) -> bool:
        """Whether it lies too far from the untouched runs before it of a feature that no filter follows."""
        state = self.features.get(row.feature)
        if not isinstance(state, PooledFeature) or not state.fresh or named(row.feature).feature in PAIRS:
            return False
        return far_apart(row, state.findings, self.shown(row.check, named(row.feature).thing))

    def _moved(self, row: Adjustment) -> None:
        self.held = without(self.held, self._moved_by(row))
        known, parts = find_feature(row.feature), named(row.feature)
        if known is not None and known.name == OFFSET and parts.thing in self.stops:
            self.stops[parts.thing] = self.stops[parts.thing].moved(row.at, row.u)
        for feature in self._moved_by(row):
            state = self.features.get(feature)
            if isinstance(state, FilteredFeature) and known is not None:
                state.move(row, known)
            elif isinstance(state, PooledFeature):
                state.move(row)
        if named(row.feature).feature == "fence-angle":
            self._screw_turned(row)
        self._mates_moved(row, known)

    def _mates_moved(self, row: Adjustment, known: Feature | None) -> None:
        """What else is read from the same adjuster was moved too; by how much is not known in its unit."""
        for feature, state in self.features.items():
            mate = find_feature(feature)
            if known is None or mate is None or mate.name == known.name or mate.adjuster != known.adjuster:
                continue
            if isinstance(state, PooledFeature) and named(feature).thing == named(row.feature).thing:
                state.moved = True

    def _screw_turned(self, row: Adjustment) -> None:
        """The screw of the fence may stand at its zero alone, or on its arm, and then every detent went with it."""
        if named(row.feature).thing in self.zero_stops:
            return
        touched = ShopEvent(row.at, SCREW, named(row.feature).thing, row.id)
        event = EVENTS[touched.kind]
        whole = event.doubt_of(named(row.feature)) or math.inf
        for feature, state in self.features.items():
            doubt = event.doubt_of(named(feature), touched.subject)
            if doubt is None or named(feature).thing != touched.subject or named(feature).feature == "fence-angle":
                continue
            self._doubted(feature, state, touched, doubt * row.amount / whole)
            if isinstance(
                state, FilteredFeature
            ):  # a small turn says nothing of what the event does: two at once teach nothing
                state.events = (*state.events, touched.kind)

    def _doubted(self, feature: str, state: FilteredFeature | PooledFeature, row: ShopEvent, doubt: float) -> None:
        """An event may have shifted a feature by so much."""
        state.happen(row, doubt)
        parts = named(feature)
        if parts.feature == OFFSET and parts.thing in self.stops:
            self.stops[parts.thing] = self.stops[parts.thing].doubted(row.at, parts.angle, doubt)

    def _moved_by(self, row: Adjustment) -> tuple[str, ...]:
        """A scale has one cursor: moved, it is moved at every angle."""
        mine = named(row.feature)
        if mine.feature != OFFSET:
            return (row.feature,)
        waiting = (held.feature for rows in self.held.values() for held in rows)
        found = ((full, named(full)) for full in (row.feature, *self.features, *waiting))
        return tuple(dict.fromkeys(full for full, one in found if (one.thing, one.feature) == (mine.thing, OFFSET)))

    def _happened(self, row: ShopEvent) -> None:
        waiting = {held.feature for rows in self.held.values() for held in rows}
        self.held = without(self.held, (feature for feature in waiting if row.stales(feature) is not None))
        for feature, state in self.features.items():
            doubt = self.doubt(row, feature)
            if doubt is not None and not self._of_zero_alone(row, feature):
                self._doubted(feature, state, row, doubt)

    def _of_zero_alone(self, row: ShopEvent, feature: str) -> bool:
        """Whether the screw was touched, and on this fixture that reaches the square cut alone."""
        parts = named(feature)
        return row.kind == SCREW and parts.thing in self.zero_stops and parts.angle != "0"


def _begin(row: Result, scatter: EstimatedSd | None) -> FilteredFeature | PooledFeature:
    known = find_feature(row.feature)
    if known is not None and known.adjustable and known.name not in PAIRS:
        return FilteredFeature.begin(row, scatter, walk_sd(row.feature))
    return PooledFeature.begin(row, split(row.x, scatter))


def fold_history(history: History, starts: Mapping[str, EstimatedSd] | None = None) -> LearnedState:
    """What a whole history teaches."""
    known = LearnedState(starts=dict(starts or {}), confirmed=confirmed_by_hand(history))
    return known.take_all(in_order(history))
