"""From what was taken to the finding: estimates with their decision, moves that may be made, warnings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from trued.measure.decision import LEVEL, Chances, Conformity, Side, ToleranceLimits, judge
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import BudgetLine, ErrorSource, UncertainValue, interval
from trued.measure.sd_interval import sd_interval, spread_chances
from trued.procedure.declaration import FeatureResult, Flag, Move, RunInput, Severity
from trued.procedure.gross_errors import repeat_slipped
from trued.procedure.reading_rules import undeclared
from trued.standing.error_split import run_source
from trued.standing.pooled.checked_before import source_of

MOST_REPEATS = 10


@dataclass(frozen=True, slots=True)
class Estimate:
    """One feature with all that is said of it.

    side: beyond which limit it is proven out; None for every other decision.
    runs_to_decide: untouched runs in all that would settle it.
    """

    feature: str
    unit: str
    value: float
    u: float
    dof: float
    interval95: tuple[float, float]
    limits: ToleranceLimits | None
    chance_in: float | None
    decision: Conformity | None
    components: tuple[BudgetLine, ...]
    runs_to_decide: int | None = None
    safety: bool = False
    side: Side | None = None
    scatter_source: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """A check's result. `refused` holds when a blunder forbids working anything out."""

    founds: tuple[FeatureResult, ...]
    estimates: tuple[Estimate, ...]
    moves: tuple[Move, ...]
    seen: tuple[Flag, ...]

    @property
    def refused(self) -> tuple[Flag, ...]:
        """The warnings that forbid a result."""
        return tuple(seen for seen in self.seen if seen.act is Severity.REFUSE)

    @property
    def dangers(self) -> tuple[Flag, ...]:
        """What can hurt someone: said before anything else."""
        return tuple(seen for seen in self.seen if seen.act is Severity.DANGER)

    @property
    def doubts(self) -> tuple[Flag, ...]:
        """What stands against the run: it is to be read again."""
        return tuple(seen for seen in self.seen if seen.act is Severity.DOUBT)


def examine(taken: RunInput) -> Finding:
    """Work out one run. A doubt withholds every move and every proof; a move is given only when proven out.

    Where someone can get hurt what is out stays out, also in a run that is in doubt; a danger that the readings show
    puts what it is about out of use, whatever was measured.

    A feature in which the scatter between runs is no part, as a difference within one seating, needs no second run.
    """
    check = taken.check
    seen = noticed(taken)
    if any(s.act is Severity.REFUSE for s in seen):
        return Finding((), (), (), tuple(seen))
    founds = check.evaluate(taken)
    doubted = any(s.act is Severity.DOUBT for s in seen)
    dangers = [s for s in seen if s.act is Severity.DANGER]
    estimates = tuple(_estimate(found, taken, dangers, doubted=doubted) for found in founds)
    if not taken.scatter_seen and any(e.decision is Conformity.NOT_PROVEN and _would_be_in(e) for e in estimates):
        seen.append(ONE_RUN)
    out = {e.feature for e in estimates if e.side is not None}
    out |= {found.adjuster for found in check.found if found.name in out}
    moves = tuple(move for move in check.moves(taken, founds) if move.feature in out) if out and not doubted else ()
    return Finding(founds, estimates, moves, tuple(seen))


def noticed(taken: RunInput) -> list[Flag]:
    """What the readings of one run show by themselves: each warning of the check, then readings of unusual size.

    What can hurt someone comes first. A reading in the other unit makes nonsense of all else: beside it only what is
    refused as well is said.
    """
    seen = dangers_of(taken) + undeclared(taken)
    seen += [s for blunder in taken.check.blunders if (s := blunder(taken)) is not None]
    seen.sort(key=lambda s: s.act is not Severity.DANGER)
    slip = next((s for s in seen if s.code == "unit-slip"), None) or repeat_slipped(taken)
    if slip is None:
        return seen + _unexpected(taken)
    return [slip, *(s for s in seen if s.act is Severity.REFUSE and s != slip)]


def dangers_of(taken: RunInput) -> list[Flag]:
    """What the readings show that can hurt someone, of as many of them as there are."""
    return [s for danger in taken.check.dangers if (s := danger(taken)) is not None]


ONE_RUN = Flag(
    "one-run",
    Severity.NOTE,
    "Repeat once before you judge, with nothing touched: one run cannot show how well this repeats here.",
)


def _scatter_source(found: FeatureResult, taken: RunInput) -> str:
    """Where what is known of the scatter between runs comes from; "" where the check has none."""
    return source_of(taken.scatter) if run_source(found.value) is not None else ""


def _would_be_in(estimate: Estimate) -> bool:
    return estimate.chance_in is not None and estimate.chance_in > 1.0 - LEVEL


def _estimate(found: FeatureResult, taken: RunInput, dangers: Sequence[Flag], *, doubted: bool) -> Estimate:
    x, limits = found.value, found.limits
    chances = None if limits is None else chances_of(found, limits)
    decision = None
    if chances is not None:
        decision = judge(chances, may_prove_in=taken.scatter_seen or run_source(x) is None)
        if any(danger.is_about(found.feature) for danger in dangers):
            decision = Conformity.PROVEN_OUT if found.safety else decision
            decision = Conformity.NOT_PROVEN if decision is Conformity.PROVEN_IN else decision
        if doubted and not (found.safety and decision is Conformity.PROVEN_OUT):
            decision = Conformity.NOT_PROVEN
    return Estimate(
        feature=found.feature,
        unit=found.unit,
        value=x.value,
        u=x.u,
        dof=x.dof,
        interval95=interval(x) if found.spread is None else sd_interval(found.spread),
        limits=limits,
        chance_in=None if chances is None else chances.inside,
        decision=decision,
        components=x.components,
        runs_to_decide=_runs_to_decide(found) if decision is Conformity.NOT_PROVEN else None,
        safety=found.safety,
        scatter_source=_scatter_source(found, taken),
        side=chances.beyond() if chances is not None and decision is Conformity.PROVEN_OUT else None,
    )


def chances_of(found: FeatureResult, limits: ToleranceLimits) -> Chances:
    """Chances that the feature lies below `limits`, inside and above."""
    return spread_chances(found.spread, limits) if found.spread is not None else Chances.of(found.value, limits)


def _runs_to_decide(found: FeatureResult) -> int | None:
    """How many untouched runs in all would decide, were the value found to stay; None beyond a sensible number."""
    for runs in range(2, MOST_REPEATS + 1):
        more = replace(found, value=averaged(found.value, runs), spread=_longer(found.spread, runs))
        if found.limits is not None and judge(chances_of(more, found.limits)) is not Conformity.NOT_PROVEN:
            return runs
    return None


def _longer(spread: EstimatedSd | None, runs: int) -> EstimatedSd | None:
    return None if spread is None else replace(spread, dof=spread.dof * runs)


def averaged(x: UncertainValue, runs: int) -> UncertainValue:
    """What `runs` independent runs with this mean would know: errors shared by all runs stay, the others shrink."""
    return UncertainValue(x.value, {_shrunk(source, runs): c for source, c in x.parts.items()})


def _shrunk(source: ErrorSource, runs: int) -> ErrorSource:
    if source.key.startswith("limit:"):
        return source
    dof = source.dof + runs - 1 if source.key.startswith("run:") else source.dof
    return ErrorSource(source.key, source.label, source.u / math.sqrt(runs), dof, source.shape, source.pool)


def _unexpected(taken: RunInput) -> list[Flag]:
    strange = [r for r in taken.readings if _outside(taken, r.name, r.value)]
    names = ", ".join(dict.fromkeys(f"{r.name}={r.typed}" for r in strange))
    text = f"Not the usual size: {names}. Read it again; is the unit right, and is it the right place?"
    return [Flag("unexpected-size", Severity.DOUBT, text)] if strange else []


def _outside(taken: RunInput, name: str, value: float) -> bool:
    expect = taken.check.ask(name).expect
    return expect is not None and not expect[0] <= value <= expect[1]


def pooled(values: Sequence[UncertainValue]) -> UncertainValue:
    """Weighted mean of independent findings of one thing, each weighed by 1 / u^2."""
    weights = [1.0 / v.u**2 for v in values]
    total = math.fsum(weights)
    result = UncertainValue(0.0)
    for weight, value in zip(weights, values, strict=True):
        result = result + (weight / total) * value
    return result
