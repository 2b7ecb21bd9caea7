"""What the fits of the demo's job really came to, from the true lengths: the judge of what the tool had said."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from trued.job.evaluate import Ground, evaluate
from trued.job.fit_spec import FitSpec
from trued.job.tree import Name, PartSize, Side, uses
from trued.usecases.plan_view import FitView, PlanView


def true_fits(plan: PlanView, lengths: Mapping[str, float]) -> Iterator[tuple[str, float, bool, float]]:
    """(fit, true value in mm at its worst copies, whether it lies within its limits, the chance told before)."""
    for spec, view in zip(plan.job.fits, plan.fits, strict=True):
        values = [_value(plan, lengths, spec, copies) for copies in _cases(plan, spec)]
        worst = min(values, key=lambda value: _margin(view, value))
        chance = view.expected.chance if view.expected is not None else 0.0
        yield view.name, worst, _margin(view, worst) >= 0.0, chance


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
