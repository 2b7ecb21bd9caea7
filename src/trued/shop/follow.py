"""One adjustable feature followed through its findings, moves, events and days by the filter of two states."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from trued.measure.scatter import Scatter
from trued.shop.event import EVENTS
from trued.shop.feature import Feature
from trued.shop.history import Happened, Moved, Observed, Row
from trued.shop.response import HYPOTHESES, Hypothesis, Response
from trued.shop.shared import variances

DAY = 86400.0


@dataclass(frozen=True, slots=True)
class Residual:
    """How a foretold run came out: `miss` against the standard deviation expected; `run_share` of its variance is
    owed to the scatter between runs. `untouched` runs are pairs, and are learnt from elsewhere.
    """

    miss: float
    sd: float
    run_share: float
    check: str
    untouched: bool


@dataclass(frozen=True, slots=True)
class Followed:
    """Where following has led. `touched` and `moved` tell what came after the last finding."""

    response: Response
    last: Observed
    at: datetime
    since: datetime
    findings: int = 1
    runs: int = 1
    touched: tuple[str, ...] = ()
    moved: bool = False
    any_move: bool = False
    residuals: tuple[Residual, ...] = field(default=(), repr=False)

    @property
    def fresh(self) -> bool:
        """Whether nothing was turned and nothing happened since the last finding."""
        return not (self.touched or self.moved)

    @property
    def surprise(self) -> float:
        """The last foretold run's miss in its own standard deviations; 0 before there was one."""
        return abs(self.residuals[-1].miss) / self.residuals[-1].sd if self.residuals else 0.0


def follow(
    rows: Sequence[Row],
    feature: Feature,
    scatters: Mapping[str, Scatter],
    now: datetime | None = None,
    hypotheses: tuple[Hypothesis, ...] = HYPOTHESES,
) -> Followed | None:
    """Follow one feature's rows, in order, up to `now`; None when it was never found.

    Nothing is known before the first finding: moves and events before it change nothing (the limit of a flat start).
    `scatters`: what is known of the scatter between runs, by check.
    """
    state: Followed | None = None
    residuals: list[Residual] = []
    for row in rows:
        if state is None:
            state = _begin(row, scatters, hypotheses) if isinstance(row, Observed) else None
            continue
        state = _aged(state, row.at, feature)
        if isinstance(row, Observed):
            state = _found(state, row, scatters, residuals)
        elif isinstance(row, Moved):
            settling = feature.actuator.settling if feature.actuator is not None else 0.0
            state = replace(state, response=state.response.moved(row.u, settling), moved=True, any_move=True)
        else:
            state = _happened(state, row)
    if state is None:
        return None
    state = replace(state, residuals=tuple(residuals))
    return _aged(state, now, feature) if now is not None else state


def _begin(row: Observed, scatters: Mapping[str, Scatter], hypotheses: tuple[Hypothesis, ...]) -> Followed:
    r, run_r = variances(row.x, scatters.get(row.check))
    response = Response.first(row.x.value, r, run_r, hypotheses)
    return Followed(response, row, row.at, row.at)


def _aged(state: Followed, at: datetime, feature: Feature) -> Followed:
    days = max(0.0, (at - state.at).total_seconds() / DAY)
    if days == 0.0 or feature.drift == 0.0:
        return replace(state, at=at)
    return replace(state, at=at, response=state.response.doubted(feature.drift**2 * days))


def _found(state: Followed, row: Observed, scatters: Mapping[str, Scatter], residuals: list[Residual]) -> Followed:
    x = row.x.value
    r, run_r = variances(row.x, scatters.get(row.check))
    after = state.response.found(x, r, run_r)
    best = after.likeliest.hypothesis
    before = next(b.belief for b in state.response.branches if b.hypothesis == best)
    variance = before.xx + r
    if variance > 0.0:
        sd = math.sqrt(variance)
        residuals.append(Residual(x - before.x, sd, run_r / variance, row.check, state.fresh))
    return replace(
        state,
        response=after,
        last=row,
        since=state.since if state.fresh else row.at,
        findings=state.findings + 1,
        runs=state.runs + 1 if state.fresh else 1,
        touched=(),
        moved=False,
    )


def _happened(state: Followed, row: Happened) -> Followed:
    doubt = row.stales(state.last.feature) or 0.0
    touched = (*state.touched, EVENTS[row.kind].text)
    return replace(state, response=state.response.doubted(doubt**2), touched=touched)
