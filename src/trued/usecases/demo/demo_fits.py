"""What the demo's job really came to, from the true lengths: the judge of what the tool had said."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from trued.job.expression.evaluate import Ground, evaluate
from trued.job.expression.tree import Name, PartSize, Side, uses
from trued.job.geometry.fit_spec import FitSpec
from trued.job.proof.part_inspection import Inspection
from trued.measure.decision import LEVEL, Conformity, ToleranceLimits
from trued.usecases.plan.planned import FitView, PlanView


def true_fits(plan: PlanView, lengths: Mapping[str, float]) -> Iterator[tuple[str, float, bool, float]]:
    """(fit, true value in mm at its worst copies, whether it lies within its limits, the chance told before)."""
    for spec, view in zip(plan.job.fits, plan.fits, strict=True):
        values = [_value(plan, lengths, spec, copies) for copies in _cases(plan, spec)]
        worst = min(values, key=lambda value: _margin(view, value))
        chance = view.expected.chance if view.expected is not None else 0.0
        yield view.name, worst, _margin(view, worst) >= 0.0, chance


def sure_words(
    proof: Inspection, lengths: Mapping[str, float], fitted: Mapping[str, bool]
) -> Iterator[tuple[str, bool]]:
    """(what the proof called sure, whether it was really so), for each of its verdicts and fits."""
    for verdict in (*proof.sizes, *proof.alike):
        if verdict.decision is Conformity.NOT_PROVEN or verdict.limits is None:
            continue
        shift = verdict.found.value - verdict.off.value
        off = _true(verdict.name, lengths) - shift
        yield verdict.name, _within(verdict.limits, off) is (verdict.decision is Conformity.PROVEN_IN)
    for fit in proof.fits:
        if fit.chance >= LEVEL or fit.chance <= 1.0 - LEVEL:
            yield fit.name, fitted[fit.name] is (fit.chance >= LEVEL)


def _true(name: str, lengths: Mapping[str, float]) -> float:
    """`side@1.length`, or the difference of two such."""
    first, _, second = name.partition(" - ")
    size = lengths[first.removesuffix(".length")]
    return size - lengths[second.removesuffix(".length")] if second else size


def _within(limits: ToleranceLimits, mm: float) -> bool:
    return (limits.low is None or limits.low <= mm) and (limits.high is None or mm <= limits.high)


def _cases(plan: PlanView, spec: FitSpec) -> Iterator[dict[str, int]]:
    """Every choice of copies for the parts that are named without one."""
    open_parts = sorted({use.part for use in uses(spec.of) if isinstance(use, PartSize) and use.copy is None})
    for copies in product(*(plan.job.part(part).copies for part in open_parts)):
        yield dict(zip(open_parts, copies, strict=True))


def _value(plan: PlanView, lengths: Mapping[str, float], spec: FitSpec, copies: Mapping[str, int]) -> float:
    def true(use: Name | PartSize) -> float:
        if isinstance(use, Name):
            return float(next(named.exact_mm or 0 for named in plan.job.named if named.name == use.name))
        if use.side is Side.LENGTH:
            return lengths[f"{use.part}@{use.copy or copies[use.part]}"]
        size = plan.job.part(use.part).size(use.side)
        return size.mm if size is not None else 0.0

    return evaluate(spec.of, Ground(float, true, _choose))


def _margin(view: FitView, value: float) -> float:
    low, high = view.limits_mm
    sides = [value - low] if low is not None else []
    return min([*sides, high - value] if high is not None else sides)


def _choose(word: str, among: Sequence[float]) -> float:
    return min(among) if word == "min" else max(among)
