"""Will it go together? What each fit comes to, how far it spreads, and which error gives how much of it.

First order: the expression is followed by its derivatives at the expected sizes. That is exact for sums and for
products with plain numbers; where the smallest or largest of near-equal sizes is taken it is not, and the result says
so (`curved`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import cycle, islice, pairwise, product
from math import prod

from trued.job.budget import Budget, assumed_labels
from trued.job.fit_spec import FitSpec
from trued.job.job import Job
from trued.job.part import Part
from trued.job.tree import Choice, Name, Node, PartSize, Side, uses, walk
from trued.measure.estimate import Uncertain, chance_between, interval

_MOST_CASES = 2000


@dataclass(frozen=True, slots=True)
class FitResult:
    """One fit as it is expected to come out; mm.

    sd, dof:  standard uncertainty and its degrees of freedom. interval: holds the true value 95 times in 100.
    chance:   that it lies within its limits. With several copies these are the figures of the least likely one,
              and `copies` names it; the chance is of that one, not of all together.
    shares:   part of the variance by source, the largest first. assumed: those sources that nothing in this shop has
              shown yet.
    curved:   sizes so near each other are compared that the first order is not sure.
    """

    name: str
    mean_mm: float
    sd_mm: float
    dof: float
    chance: float
    interval_mm: tuple[float, float]
    shares: Mapping[str, float]
    assumed: tuple[str, ...]
    curved: bool
    copies: str
    limits_mm: tuple[float | None, float | None]


def judge_fits(budget: Budget) -> tuple[FitResult, ...]:
    """Every fit of the job whose sizes are known, in the order written. `waiting_fits` are the others."""
    waiting = waiting_fits(budget.job)
    return tuple(judge_fit(budget, spec) for spec in budget.job.fits if spec not in waiting)


def judge_fit(budget: Budget, spec: FitSpec) -> FitResult:
    """One fit, at the copies where it is least likely. KeyError when it rests on a size that is held back."""
    limits = _limits(spec)
    cases = [(budget.actual(spec.of, case), case) for case in _cases(budget, spec)]
    value, case = min(cases, key=lambda one: (chance_between(one[0], *limits), -_over(one[0].value, *limits)))
    shares = value.shares()
    lacking = assumed_labels(budget)
    return FitResult(
        name=spec.id,
        mean_mm=value.value,
        sd_mm=value.u,
        dof=value.dof,
        chance=chance_between(value, *limits),
        interval_mm=interval(value),
        shares=shares,
        assumed=tuple(label for label in shares if label in lacking),
        curved=_curved(budget, spec.of, case),
        copies=", ".join(f"{part}@{copy}" for part, copy in case.items()) if len(cases) > 1 else "",
        limits_mm=limits,
    )


def waiting_fits(job: Job) -> tuple[FitSpec, ...]:
    """Fits that rest on a size that is still to be measured."""
    return tuple(spec for spec in job.fits if any(_held_back(job, use) for use in uses(spec.of)))


def _held_back(job: Job, use: Name | PartSize) -> bool:
    if isinstance(use, Name):
        return any(named.name == use.name and named.exact_mm is None for named in job.named)
    return job.part(use.part).held_back


def _limits(spec: FitSpec) -> tuple[float | None, float | None]:
    low, high = spec.at_least_mm, spec.at_most_mm
    return None if low is None else float(low), None if high is None else float(high)


def _over(mean: float, low: float | None, high: float | None) -> float:
    """How far the mean lies beyond its limits; below 0 inside. It tells which of several sure ones is the worst."""
    sides = ([] if low is None else [low - mean]) + ([] if high is None else [mean - high])
    return max(sides)


def _cases(budget: Budget, spec: FitSpec) -> Iterator[dict[str, int]]:
    """The copies to look at: one of each kind of every part whose copy is not written.

    Copies are of one kind when they share settings, station and board and none was measured: then they are the same
    but for the draw. With more than 2,000 ways to combine them, each copy is looked at with one mate in turn.
    """
    names = dict.fromkeys(use.part for use in uses(spec.of) if isinstance(use, PartSize) and use.copy is None)
    kinds = [_one_of_each_kind(budget, budget.job.part(name)) for name in names]
    if prod(len(copies) for copies in kinds) <= _MOST_CASES:
        ways: Iterator[Sequence[int]] = product(*kinds)
    else:
        ways = islice(zip(*(cycle(copies) for copies in kinds), strict=True), max(map(len, kinds)))
    return (dict(zip(names, way, strict=True)) for way in ways)


def _one_of_each_kind(budget: Budget, part: Part) -> list[int]:
    kinds: dict[object, int] = {}
    for copy in part.copies:
        was_measured = any(PartSize(part.id, side, copy) in budget.measured for side in Side)
        kinds.setdefault((copy,) if was_measured else budget.groups[part.id, copy], copy)
    return list(kinds.values())


def _curved(budget: Budget, node: Node, case: Mapping[str, int]) -> bool:
    return any(_near_tie([budget.actual(one, case) for one in choice.among]) for choice in _choices(budget.job, node))


def _near_tie(among: Sequence[Uncertain]) -> bool:
    """Whether two of them may come out the other way round: nearer to each other than three standard deviations."""
    gaps = [second - first for first, second in pairwise(sorted(among, key=lambda x: x.value))]
    return any(gap.u > 0.0 and abs(gap.value) < 3.0 * gap.u for gap in gaps)


def _choices(job: Job, node: Node) -> Iterator[Choice]:
    """Every min and max that an expression rests on, also inside the named sizes and thicknesses that it uses."""
    waiting, seen = [node], {node}
    while waiting:
        for here in walk(waiting.pop()):
            if isinstance(here, Choice):
                yield here
            behind = _behind(job, here)
            if behind is not None and behind not in seen:
                seen.add(behind)
                waiting.append(behind)


def _behind(job: Job, node: Node) -> Node | None:
    if isinstance(node, Name):
        return next((named.of for named in job.named if named.name == node.name and not named.instrument), None)
    if isinstance(node, PartSize) and node.side is Side.THICKNESS and (size := job.part(node.part).thickness):
        return size.node
    return None
