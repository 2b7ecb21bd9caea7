"""The standing of every feature, from the history and the time alone."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime

from trued.measure.decision import Decision, Limits, chance_in, judge
from trued.measure.estimate import Source, Uncertain
from trued.measure.scatter import Scatter
from trued.measure.spread import spread_chance
from trued.shop.advice import Case, next_of_followed, next_of_plain
from trued.shop.feature import Feature, find_feature, full_name, named, said
from trued.shop.follow import Followed, follow
from trued.shop.history import History, Observed
from trued.shop.learnt import scatter_of
from trued.shop.plain import Epoch, epoch_of, plain, plain_pair
from trued.shop.response import Branch
from trued.shop.shared import own_run, run_source, run_variance
from trued.shop.shop import Shop
from trued.shop.standing import Standing
from trued.shop.thing import WORK

PAIRS = {"stop-offset": "stop-slope", "stop-slope": "stop-offset"}
"""Features that one run finds together: a vector with its covariance."""


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
    starts: by check, what it takes for the usual scatter between runs; without it the least learned run on record.
    """
    view = _View(history.until(now), now, limits or {}, shop, starts or {}, {}, {})
    return tuple(view.standing(feature) for feature in view.history.features if named(feature).thing != WORK)


@dataclass(frozen=True, slots=True)
class _View:
    """One look at the history; scatters and epochs are worked out once each."""

    history: History
    now: datetime
    limits: Mapping[str, Limits]
    shop: Shop | None
    starts: Mapping[str, Scatter]
    scatters: dict[tuple[str, str], Scatter | None]
    epochs: dict[str, Epoch | None]

    def standing(self, feature: str) -> Standing:
        known = find_feature(feature)
        if known is not None and known.adjustable and known.name not in PAIRS:
            return self._followed(feature, known)
        return self._plain(feature, known)

    def scatter(self, feature: str) -> Callable[[str], Scatter | None]:
        """What is known of a check's scatter with the fixture that the feature belongs to."""
        thing = named(feature).thing

        def of(check: str) -> Scatter | None:
            if (check, thing) not in self.scatters:
                self.scatters[check, thing] = scatter_of(self.history, check, thing, self.starts.get(check))
            return self.scatters[check, thing]

        return of

    def pair_seen(self, last: Observed) -> bool:
        """Whether an untouched pair has shown the scatter between runs, or the check has none to show."""
        if run_source(last.x) is None:
            return True
        scatter = self.scatter(last.feature)(last.check)
        return scatter is not None and scatter.pairs > 0

    def tolerance(self, last: Observed, known: Feature | None) -> Limits | None:
        own = self.limits.get(last.feature) or self.limits.get(named(last.feature).feature)
        return own or last.limits or (known.limits if known is not None else None)

    def epoch(self, feature: str) -> Epoch | None:
        if feature not in self.epochs:
            self.epochs[feature] = epoch_of(self.history.of(feature), self.scatter(feature))
        return self.epochs[feature]

    def _followed(self, feature: str, known: Feature) -> Standing:
        rows = self.history.of(feature)
        of = self.scatter(feature)
        checks = {row.check for row in rows if isinstance(row, Observed)}
        scatters = {check: found for check in checks if (found := of(check)) is not None}
        state = follow(rows, known, scatters, self.now)
        assert state is not None  # noqa: S101 -- the feature was found at least once
        limits = self.tolerance(state.last, known)
        scatter = scatters.get(state.last.check)
        chance = None if limits is None else _chance(state, limits, scatter)
        seen = self.pair_seen(state.last)
        decision = None if chance is None else judge(chance, may_prove_in=seen)
        if decision is not None and not state.fresh:
            decision = Decision.NOT_PROVEN
        case = Case(feature, known, decision, chance, seen, state.touched, state.moved, self.shop)
        best = state.response.likeliest.belief
        return Standing(
            feature=feature,
            unit=state.last.unit,
            x=_value(state, scatter),
            limits=limits,
            chance_in=chance,
            decision=decision,
            since=state.since,
            runs=state.runs,
            stale=state.touched,
            next=next_of_followed(case, state),
            safety=known.safety,
            blunder=state.response.blunder,
            response=(best.g, math.sqrt(max(best.gg, 0.0))),
        )

    def _plain(self, feature: str, known: Feature | None) -> Standing:
        epoch = self.epoch(feature)
        assert epoch is not None  # noqa: S101 -- the feature was found at least once
        x = self._value(feature, epoch, known)
        limits = self.tolerance(epoch.last, known)
        chance = None if limits is None else _plain_chance(x, limits, known)
        seen = self.pair_seen(epoch.last)
        decision = None if chance is None else judge(chance, may_prove_in=seen)
        if decision is not None and not epoch.fresh:
            decision = Decision.NOT_PROVEN
        advice = known or Feature(named(feature).feature, "mm", said(feature), epoch.last.check, 10.0)
        case = Case(feature, advice, decision, chance, seen, epoch.touched, epoch.moved, self.shop)
        return Standing(
            feature=feature,
            unit=epoch.last.unit,
            x=x,
            limits=limits,
            chance_in=chance,
            decision=decision,
            since=epoch.since,
            runs=len(epoch.findings),
            stale=epoch.touched,
            next=next_of_plain(case, x.value),
            safety=advice.safety,
        )

    def _value(self, feature: str, epoch: Epoch, known: Feature | None) -> Uncertain:
        """The feature by itself, or as one of the two that its runs find together."""
        parts = named(feature)
        mate = PAIRS.get(parts.feature)
        if mate is None:
            return plain(epoch, self.now, known)
        other = full_name(parts.thing, mate, parts.angle)
        other_epoch = self.epoch(other)
        if other_epoch is None:
            return plain(epoch, self.now, known)
        pair = (epoch, known), (other_epoch, find_feature(other))
        if parts.feature == "stop-offset":
            return plain_pair(*pair, self.now)[0]
        return plain_pair(pair[1], pair[0], self.now)[1]


def _plain_chance(x: Uncertain, limits: Limits, known: Feature | None) -> float:
    if known is not None and known.spread and x.value > 0.0 and math.isfinite(x.dof):
        return spread_chance(Scatter(x.value, x.dof), limits.low, limits.high)
    return chance_in(x, limits)


def _value(state: Followed, scatter: Scatter | None) -> Uncertain:
    """The filter's mean and variance as a value with sources.

    After one finding these are the finding's own and what was added since; later the scatter between runs, as well
    known as it is, and all the rest.
    """
    response = state.response
    if state.findings > 1:
        return _two_sources(state, response.x, response.variance, response.run_variance, scatter)
    found = own_run(state.last.x, state.last.run, scatter)
    added = math.sqrt(max(0.0, response.variance - found.u**2))
    parts = dict(found.parts)
    if added > 0.0:
        label = f"{said(state.last.feature)}: moves, events and time since"
        parts[Source(f"since:{state.last.feature}", label, added)] = 1.0
    return Uncertain(response.x, parts)


def _two_sources(state: Followed, x: float, variance: float, run: float, scatter: Scatter | None) -> Uncertain:
    name = state.last.feature
    last = own_run(state.last.x, state.last.run, scatter)
    others = {s: c for s, c in last.parts.items() if run_variance(Uncertain(0.0, {s: c})) == 0.0}
    dof = scatter.dof if scatter is not None else math.inf
    runs = Source(f"standing:{name}:runs", f"{said(name)}: scatter between runs", math.sqrt(max(run, 0.0)), dof)
    rest_u = math.sqrt(max(variance - run, 0.0))
    rest = Source(f"standing:{name}", f"{said(name)}: readings, moves and time", rest_u, Uncertain(0.0, others).dof)
    return Uncertain.of(x, runs, rest)


def _chance(state: Followed, limits: Limits, scatter: Scatter | None) -> float:
    """Chance within the limits, over all hypotheses of what moves do."""
    if state.findings == 1 and state.fresh:
        return chance_in(_value(state, scatter), limits)
    return math.fsum(b.chance * chance_in(_branch_value(state, b, scatter), limits) for b in state.response.branches)


def _branch_value(state: Followed, branch: Branch, scatter: Scatter | None) -> Uncertain:
    belief = branch.belief
    return _two_sources(state, belief.x, belief.xx, belief.run_xx, scatter)
