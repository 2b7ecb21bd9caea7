"""The standing of every feature, from the history and the time alone."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime

from trued.measure.decision import Chances, Decision, Limits, Side, judge
from trued.measure.estimate import Uncertain
from trued.measure.scatter import Scatter
from trued.measure.spread import spread_chances
from trued.shop.advice import next_of_followed
from trued.shop.advice_plain import next_of_plain
from trued.shop.aside import SetAside
from trued.shop.believed import Believed
from trued.shop.case import Case
from trued.shop.drift import drift_of
from trued.shop.epoch import Epoch
from trued.shop.feature import Feature, bare_name, find_feature, full_name, named, said
from trued.shop.foresee import target_of
from trued.shop.history import History, Observed
from trued.shop.known import PAIRS, Known, known_of
from trued.shop.look_again import look_again
from trued.shop.plain import plain, plain_pair
from trued.shop.shared import run_source
from trued.shop.shop import Shop
from trued.shop.side_words import side_said
from trued.shop.standing import LookAgain, Standing
from trued.shop.track import Track


def standings(
    history: History,
    now: datetime,
    *,
    limits: Mapping[str, Limits] | None = None,
    shop: Shop | None = None,
    starts: Mapping[str, Scatter] | None = None,
) -> tuple[Standing, ...]:
    """What is believed of each feature that was found at least once by `now`, sorted by name.

    limits: tolerances by full or bare feature name; without one, those of the last finding, else common practice.
    shop:   for the words and sizes of the advice (radius, layout, unit).
    starts: by check, what it takes for the usual scatter between runs; without it that of the first run on record.
    """
    return standings_of(known_of(history.until(now), starts), now, limits=limits, shop=shop)


def standings_of(
    known: Known, now: datetime, *, limits: Mapping[str, Limits] | None = None, shop: Shop | None = None
) -> tuple[Standing, ...]:
    """The same from what the rows until `now` have taught."""
    view = _View(known, now, limits or {}, shop)
    return tuple(view.standing(feature) for feature in sorted(known.features))


@dataclass(frozen=True, slots=True)
class _View:
    """One look at what is known."""

    known: Known
    now: datetime
    limits: Mapping[str, Limits]
    shop: Shop | None

    def standing(self, feature: str) -> Standing:
        state = self.known.features[feature]
        if isinstance(state, Track):
            return self._followed(feature, state)
        return self._plain(feature, state)

    def scatter(self, feature: str) -> Callable[[str], Scatter | None]:
        """What is known of a check's scatter with the fixture that the feature belongs to."""
        thing = named(feature).thing
        return lambda check: self.known.shown(check, thing)

    def pair_seen(self, last: Observed) -> bool:
        """Whether an untouched pair has shown the scatter between runs, or the check has none to show."""
        if run_source(last.x) is None:
            return True
        scatter = self.scatter(last.feature)(last.check)
        return scatter is not None and scatter.pairs > 0

    def tolerance(self, last: Observed, known: Feature | None) -> Limits | None:
        own = self.limits.get(last.feature) or self.limits.get(bare_name(last.feature))
        return own or last.limits or (known.limits if known is not None else None)

    def _followed(self, feature: str, state: Track) -> Standing:
        known = find_feature(feature)
        assert known is not None  # noqa: S101 -- only features of the table are followed
        scatters = [s for check in state.checks if (s := self.scatter(feature)(check)) is not None]
        believed = Believed.at(state, self.now, min(scatters, key=lambda s: s.dof, default=None))
        limits = self.tolerance(state.last, known)
        chances = None if limits is None else believed.chances(limits)
        chance = None if chances is None else chances.inside
        doubted = bool(state.aside) and state.aside[-1].at > state.last.at
        seen = self.pair_seen(state.last)
        decision = _judged(chances, may_prove_in=seen, sound=state.fresh and not doubted)
        sided = limits is not None and believed.one_sided(target_of(limits))
        case = Case(
            feature, known, decision, chance, seen, state.touched, state.moved, self.shop, limits, doubted, sided
        )
        best, x = believed.response.likeliest.belief, believed.value
        return Standing(
            feature=feature,
            unit=state.last.unit,
            x=x,
            limits=limits,
            chance_in=chance,
            decision=decision,
            since=state.since,
            runs=state.runs,
            stale=state.touched,
            next=case.allowed(next_of_followed(case, believed)),
            safety=known.safety,
            blunder=believed.blunder,
            response=(best.g, math.sqrt(max(best.gg, 0.0))),
            set_aside=tuple(_aside_said(aside, case) for aside in state.aside),
            look_again=self._look_again(feature, x, limits, decision, state.drift),
            side=_side(chances, decision),
        )

    def _plain(self, feature: str, epoch: Epoch) -> Standing:
        known = find_feature(feature)
        x = self._value(feature, epoch)
        limits = self.tolerance(epoch.last, known)
        chances = None if limits is None else _plain_chances(x, limits, known)
        chance = None if chances is None else chances.inside
        seen = self.pair_seen(epoch.last)
        decision = _judged(chances, may_prove_in=seen, sound=epoch.fresh)
        advice = known or Feature(named(feature).feature, "mm", said(feature), epoch.last.check, 10.0)
        case = Case(feature, advice, decision, chance, seen, epoch.touched, epoch.moved, self.shop, limits)
        return Standing(
            feature=feature,
            unit=epoch.last.unit,
            x=x,
            limits=limits,
            chance_in=chance,
            decision=decision,
            since=epoch.since,
            runs=epoch.runs,
            stale=epoch.touched,
            next=next_of_plain(case, x.value),
            safety=advice.safety,
            look_again=self._look_again(feature, x, limits, decision, drift_of(feature)),
            side=_side(chances, decision),
        )

    def _look_again(
        self, feature: str, x: Uncertain, limits: Limits | None, decision: Decision | None, drift: Scatter | None
    ) -> LookAgain | None:
        if limits is None or decision is not Decision.PROVEN_IN:
            return None
        return look_again(feature, x, limits, drift, self.now)

    def _value(self, feature: str, epoch: Epoch) -> Uncertain:
        """The feature by itself, or as one of the two that its runs find together."""
        parts, scatter = named(feature), self.scatter(feature)
        mate = PAIRS.get(parts.feature)
        other = self.known.features.get(full_name(parts.thing, mate, parts.angle)) if mate is not None else None
        if not isinstance(other, Epoch):
            return plain(epoch, self.now, scatter)
        if parts.feature == "stop-offset":
            return plain_pair(epoch, other, self.now, scatter)[0]
        return plain_pair(other, epoch, self.now, scatter)[1]


def _judged(chances: Chances | None, *, may_prove_in: bool, sound: bool) -> Decision | None:
    """What was touched since, or is in dispute, proves nothing."""
    if chances is None:
        return None
    return judge(chances, may_prove_in=may_prove_in) if sound else Decision.NOT_PROVEN


def _side(chances: Chances | None, decision: Decision | None) -> Side | None:
    """Beyond which limit it is proven out."""
    return chances.beyond() if chances is not None and decision is Decision.PROVEN_OUT else None


def _plain_chances(x: Uncertain, limits: Limits, known: Feature | None) -> Chances:
    if known is not None and known.spread and x.value > 0.0 and math.isfinite(x.dof):
        return spread_chances(Scatter(x.value, x.dof), limits)
    return Chances.of(x, limits)


def _aside_said(aside: SetAside, case: Case) -> str:
    sign, side = "-" if aside.value < 0.0 else "+", side_said(case.feature, aside.value)
    found = f"{sign}{case.said(aside.value)}{f' ({side})' if side else ''}"
    return f"{aside.check} of {aside.at:%Y-%m-%d} found {found}: {aside.why}."
