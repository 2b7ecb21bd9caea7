"""The standing of every feature, from the history and the time alone."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from trued.advice.decision_case import DecisionCase
from trued.advice.newest_result import Newest, chances_of
from trued.advice.next_action import next_of_followed
from trued.advice.next_action_pooled import next_of_plain
from trued.advice.next_action_stop import next_of_stop
from trued.advice.one_order import one_order
from trued.advice.preposterior import target_of
from trued.advice.recheck_interval import recheck_interval
from trued.advice.side_words import side_said
from trued.advice.slip_question import slip_of, slip_question
from trued.equipment.fence_swing import UNTOLD
from trued.equipment.shop import Shop
from trued.errors import Question
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.measure.sd_interval import sd_uncertainty
from trued.standing.amounts.amount import found_said
from trued.standing.amounts.hand import hand_of
from trued.standing.error_split import run_source, split
from trued.standing.feature import Feature, bare_name, find_feature, full_name, named, said
from trued.standing.feature_status import ActionKind, FeatureStatus, LookAgain, NextAction
from trued.standing.filtered.filtered_feature import LATER, FilteredFeature
from trued.standing.filtered.posterior import Posterior
from trued.standing.filtered.slip import ASKED_UNDER, right, weigh
from trued.standing.history.history import History, Result
from trued.standing.learned.learned_state import PAIRS, LearnedState, fold_history
from trued.standing.outlier import Outlier
from trued.standing.pooled.checked_before import ASSUMED, source_of
from trued.standing.pooled.pooled_estimate import plain_pair, pooled_estimate
from trued.standing.pooled.pooled_feature import PooledFeature
from trued.standing.random_walk import walk_sd
from trued.standing.stop_history import OFFSET, SETTING, SLOPE, StopNow


def standings(
    history: History,
    now: datetime,
    *,
    limits: Mapping[str, ToleranceLimits] | None = None,
    shop: Shop | None = None,
    starts: Mapping[str, EstimatedSd] | None = None,
) -> tuple[FeatureStatus, ...]:
    """What is believed of each feature that was found at least once by `now`, sorted by name.

    Of one of which the only run waits to be confirmed nothing is believed yet: it is there, but not `believed`.

    limits: tolerances by full or bare feature name; without one, those of the last finding, else common practice.
    shop:   for the words and sizes of the advice (radius, layout, unit).
    starts: by check, what it takes for the usual scatter between runs; without it that of the first run on record.
    """
    return standings_of(fold_history(history.until(now), starts), now, limits=limits, shop=shop)


def standings_of(
    known: LearnedState, now: datetime, *, limits: Mapping[str, ToleranceLimits] | None = None, shop: Shop | None = None
) -> tuple[FeatureStatus, ...]:
    """The same from what the rows until `now` have taught."""
    stops = {thing: log.now(now) for thing, log in known.stops.items()}
    view = _View(known, now, limits or {}, shop, stops)
    waiting = {row.feature for rows in known.held.values() for row in rows}
    shown = (feature for feature in sorted({*known.features, *waiting}) if view.shown(feature))
    return one_order({feature: view.standing(feature) for feature in shown})


@dataclass(frozen=True, slots=True)
class _View:
    """One look at what is known."""

    known: LearnedState
    now: datetime
    limits: Mapping[str, ToleranceLimits]
    shop: Shop | None
    stops: Mapping[str, StopNow]

    def shown(self, feature: str) -> bool:
        """Whether there is something to say of it: of a stop whose only part is likelier a slip nothing is known."""
        stop = self.stop(feature)
        return stop is None or feature not in self.known.features or self.of_stop(feature, stop) is not None

    def stop(self, feature: str) -> StopNow | None:
        """The stop that it is a feature of."""
        parts = named(feature)
        return self.stops.get(parts.thing) if parts.feature in (OFFSET, SLOPE, SETTING) else None

    def of_stop(self, feature: str, stop: StopNow) -> UncertainValue | None:
        """What the stop's parts say of it; None while they say nothing."""
        parts = named(feature)
        if parts.feature == SETTING:
            return sd_uncertainty("stop:setting", "few settings", stop.setting) if stop.seen else None
        if parts.feature == SLOPE and parts.angle not in stop.sloped:
            return None
        pair = stop.scales.get(parts.angle)
        return None if pair is None else pair[0 if parts.feature == OFFSET else 1]

    def standing(self, feature: str) -> FeatureStatus:
        state = self.known.features.get(feature)
        if state is None:
            return self._waiting(feature)
        if isinstance(state, FilteredFeature):
            return self._followed(feature, state)
        return self._plain(feature, state)

    def scatter(self, feature: str) -> Callable[[str], EstimatedSd | None]:
        """What is known of a check's scatter with the fixture that the feature belongs to."""
        thing = named(feature).thing
        return lambda check: self.known.shown(check, thing)

    def scatter_source(self, last: Result) -> str:
        """Where what is known of the scatter between runs comes from; "" where the check has none."""
        return source_of(self.scatter(last.feature)(last.check)) if run_source(last.x) is not None else ""

    def newest(self, feature: str, last: Result | None, aside: Sequence[Outlier], *, fresh: bool) -> Newest:
        """What waits to be confirmed since the last finding that counts, and what of both can hurt someone."""
        rows = [row for rows in self.known.held.values() for row in rows if row.feature == feature]
        known = find_feature(feature)
        return Newest.of(last, aside, [(row, self.tolerance(row, known)) for row in rows], known, fresh=fresh)

    def tolerance(self, last: Result, known: Feature | None) -> ToleranceLimits | None:
        own = self.limits.get(last.feature) or self.limits.get(bare_name(last.feature))
        return own or last.limits or (known.limits if known is not None else None)

    def _followed(self, feature: str, state: FilteredFeature) -> FeatureStatus:
        known = find_feature(feature)
        assert known is not None  # noqa: S101 -- only features of the table are followed
        scatters = [s for check in state.checks if (s := self.scatter(feature)(check)) is not None]
        believed = Posterior.at(state, self.now, min(scatters, key=lambda s: s.dof, default=None))
        limits = self.tolerance(state.last, known)
        chances = None if limits is None else believed.chances(limits)
        chance = None if chances is None else chances.inside
        newest = self.newest(feature, state.last, state.aside, fresh=state.fresh)
        source = self.scatter_source(state.last)
        seen = source != ASSUMED
        decision, side = newest.decided(chances, may_prove_in=seen, fresh=state.fresh)
        case = DecisionCase(
            feature,
            known,
            decision,
            chance,
            seen,
            state.touched,
            state.moved,
            self.shop,
            limits,
            doubted=newest.apart,
            sided=limits is not None and believed.one_sided(target_of(limits)),
            unread=newest.why,
            dangers=() if side is not None else newest.dangers,
        )
        best, x = believed.response.likeliest.belief, believed.value
        asked = slip_question(state, case) if named(feature).angle != UNTOLD else None  # it may be several detents
        if (asked is not None or _odd(state)) and not (known.safety and decision is Conformity.PROVEN_OUT):
            decision, side = _open(decision), None
        return FeatureStatus(
            feature=feature,
            unit=state.last.unit,
            x=x,
            limits=limits,
            chance_in=chance,
            decision=decision,
            since=state.since,
            runs=state.runs,
            stale=state.touched,
            next=in_hand(_first(asked, state, case) or case.allowed(next_of_followed(case, believed)), case),
            safety=known.safety,
            blunder=slip_of(state) or believed.blunder,
            response=(best.g, math.sqrt(max(best.gg, 0.0))),
            set_aside=tuple(_aside_said(aside, case) for aside in state.aside),
            look_again=self._look_again(feature, x, limits, decision, state.drift),
            side=side,
            unread=newest.run,
            dangers=newest.dangers,
            asked=asked,
            scatter_source=source,
        )

    def _plain(self, feature: str, epoch: PooledFeature) -> FeatureStatus:
        known = find_feature(feature)
        x, stop = self._value(feature, epoch), self.stop(feature)
        limits = self.tolerance(epoch.last, known)
        chances = None if limits is None else chances_of(x, limits, known)
        chance = None if chances is None else chances.inside
        source = self.scatter_source(epoch.last)
        seen = source != ASSUMED
        asides = tuple(map(_aside_of, epoch.aside))
        newest = self.newest(feature, epoch.last, asides, fresh=epoch.fresh)
        steady = stop is None or not stop.shifted
        decision, side = newest.decided(chances, may_prove_in=seen, fresh=epoch.fresh and steady)
        advice = known or _unknown(epoch.last)
        case = DecisionCase(
            feature,
            advice,
            decision,
            chance,
            seen,
            epoch.touched,
            epoch.moved,
            self.shop,
            limits,
            doubted=newest.apart,
            unread=newest.why,
            dangers=() if side is not None else newest.dangers,
        )
        return FeatureStatus(
            feature=feature,
            unit=epoch.last.unit,
            x=x,
            limits=limits,
            chance_in=chance,
            decision=decision,
            since=epoch.since,
            runs=epoch.runs,
            stale=epoch.touched,
            next=in_hand(
                case.allowed(next_of_plain(case, x.value) if stop is None else next_of_stop(case, x, stop)), case
            ),
            safety=advice.safety,
            set_aside=tuple(_aside_said(aside, case) for aside in asides),
            look_again=self._look_again(feature, x, limits, decision, walk_sd(feature)),
            side=side,
            unread=newest.run,
            dangers=newest.dangers,
            scatter_source=source,
        )

    def _waiting(self, feature: str) -> FeatureStatus:
        """Nothing is believed of it: all that was found waits to be confirmed."""
        newest = self.newest(feature, None, (), fresh=True)
        last = newest.waiting[-1]
        known = find_feature(feature) or _unknown(last)
        limits = self.tolerance(last, known)
        chances = None if limits is None else chances_of(last.x, limits, known)
        decision, side = newest.decided(chances, may_prove_in=False, fresh=True)
        case = DecisionCase(feature, known, decision, None, False, (), False, self.shop, limits, unread=newest.why)
        dangers = () if side is not None else newest.dangers
        return FeatureStatus(
            feature=feature,
            unit=last.unit,
            x=last.x,
            limits=limits,
            chance_in=None,
            decision=decision,
            since=last.at,
            runs=0,
            next=replace(case, dangers=dangers).first,
            safety=known.safety,
            side=side,
            unread=newest.run,
            dangers=newest.dangers,
        )

    def _look_again(
        self,
        feature: str,
        x: UncertainValue,
        limits: ToleranceLimits | None,
        decision: Conformity | None,
        drift: EstimatedSd | None,
    ) -> LookAgain | None:
        if limits is None or decision is not Conformity.PROVEN_IN:
            return None
        return recheck_interval(feature, x, limits, drift, self.now)

    def _value(self, feature: str, epoch: PooledFeature) -> UncertainValue:
        """The feature by itself, or as one of the two that its runs find together."""
        parts, scatter, stop = named(feature), self.scatter(feature), self.stop(feature)
        if stop is not None and (x := self.of_stop(feature, stop)) is not None:
            return x
        mate = PAIRS.get(parts.feature)
        other = self.known.features.get(full_name(parts.thing, mate, parts.angle)) if mate is not None else None
        if not isinstance(other, PooledFeature):
            return pooled_estimate(epoch, self.now, scatter)
        if parts.feature == "stop-offset":
            return plain_pair(epoch, other, self.now, scatter)[0]
        return plain_pair(other, epoch, self.now, scatter)[1]


def _unknown(row: Result) -> Feature:
    """A feature that only a person's own check teaches."""
    return Feature(named(row.feature).feature, "mm", said(row.feature), check=row.check)


def _aside_of(row: Result) -> Outlier:
    """A finding of a feature that no filter follows, set aside."""
    parts = split(row.x, None)
    common = tuple(parts.common.items())
    return Outlier(row.run, row.check, row.at, row.x.value, parts.own, parts.run, common, LATER)


def _open(decision: Conformity | None) -> Conformity | None:
    """While a question about it is open nothing is proven."""
    return None if decision is None else Conformity.NOT_PROVEN


def _first(asked: Question | None, state: FilteredFeature, case: DecisionCase) -> NextAction | None:
    """What comes before any order: the answer to a question, or one run more where nothing explains the last one. What
    can hurt someone, and a run that is to be read again, come before that."""
    if case.dangers or case.unread:
        return None
    if asked is not None:
        return NextAction(ActionKind.LOOK, asked.text, "Answer first.", check=case.known.check)
    return case.again("That run was a surprise. Repeat it.") if _odd(state) else None


def _odd(state: FilteredFeature) -> bool:
    """Whether one run alone lies where nothing explains it."""
    return state.held and state.arm is not None and state.runs < 2 and right(weigh(state.arm)) < ASKED_UNDER


def in_hand(step: NextAction | None, case: DecisionCase) -> NextAction | None:
    """The step with its amount in the unit that the hand reads. Of an angle that was not told nothing is ordered."""
    if step is not None and named(case.feature).angle == UNTOLD:
        return NextAction(ActionKind.LEAVE, "Leave it.", "The angle of that run is not known.")
    if step is None or step.amount is None:
        return step
    return replace(step, hand=hand_of(step.amount, case.known.unit, case.feature, case.shop, settable=True))


def _aside_said(aside: Outlier, case: DecisionCase) -> str:
    sign, side = "-" if aside.value < 0.0 else "+", side_said(case.feature, aside.value)
    found = f"{sign}{found_said(aside.value, case.known.unit, case.feature, case.shop)}{f' ({side})' if side else ''}"
    return f"{aside.check} of {aside.at:%Y-%m-%d}, {found}: {aside.why}."
