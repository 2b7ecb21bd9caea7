"""A fit looked at: every copy that it is about, at every place, to first order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import cycle, islice, product
from math import prod

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.expression.tree import Binary, Choice, Name, Negated, Node, PartSize
from trued.job.geometry.fit_geometry import BuiltGeometry, Geometry, LimitPlace, LimitSide
from trued.job.geometry.fit_spec import FitSpec
from trued.job.geometry.kinds.expression import expression_of
from trued.job.job import Job
from trued.measure.estimate import UncertainValue, chance_between

_MOST_WAYS = 64

Bounds = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True)
class CopyChoice:
    """One choice of copies: what goes into the geometry, and what it comes to at every place."""

    copies: Mapping[str, int]
    inputs: tuple[UncertainValue, ...]
    places: tuple[LimitPlace[UncertainValue], ...]


@dataclass(frozen=True, slots=True)
class LimitPoint:
    """One place of one case, with the chance that it is within its limits."""

    case: CopyChoice
    place: int
    chance: float

    @property
    def value(self) -> UncertainValue:
        """What it comes to there."""
        return self.case.places[self.place].value


@dataclass(frozen=True, slots=True)
class LinearFit:
    """A fit with all its cases. It holds when every place of every case lies within its limits."""

    spec: FitSpec
    geometry: Geometry
    limits: Bounds
    cases: tuple[CopyChoice, ...]

    def spots(self) -> Iterator[LimitPoint]:
        """Every place of every case."""
        for case in self.cases:
            for number, place in enumerate(case.places):
                yield LimitPoint(case, number, chance_between(place.value, *bounds(self.limits, place.against)))

    def worst(self) -> tuple[LimitPoint, bool]:
        """The least likely spot, and whether any other one is likelier than it: then it is worth naming."""
        ranked = sorted(self.spots(), key=self._rank)
        return ranked[0], self._rank(ranked[-1]) != self._rank(ranked[0])

    def _rank(self, spot: LimitPoint) -> tuple[float, float]:
        against = spot.case.places[spot.place].against
        return round(spot.chance, 12), -round(_over(spot.value.value, *bounds(self.limits, against)), 9)

    @property
    def one_sum(self) -> bool:
        """Whether it is one plain sum at one place: then the first order is the whole truth."""
        if not self.geometry.straight:
            return False
        first = self.cases[0].places[0]
        return all(place == first for case in self.cases for place in case.places)


def look_at(budget: UncertaintyBudget, spec: FitSpec) -> LinearFit:
    """The fit with the copies that it is about. KeyError when it rests on a size that is held back."""
    geometry = spec.shape or expression_of(written_out(budget.job, spec.of))
    cases = []
    for copies in _ways(budget.job, spec):
        inputs = tuple(_with_error(x) for x in geometry.inputs(BuiltGeometry(budget, copies, spec.id)))
        cases.append(CopyChoice(copies, inputs, geometry.places(inputs)))
    low, high = spec.at_least_mm, spec.at_most_mm
    limits = None if low is None else float(low), None if high is None else float(high)
    return LinearFit(spec, geometry, limits, tuple(cases))


def _with_error(x: UncertainValue) -> UncertainValue:
    """The value without sources that have no error: they would only tell copies apart that are the same."""
    return UncertainValue(x.value, {source: c for source, c in x.parts.items() if source.u > 0.0})


def bounds(limits: Bounds, against: LimitSide) -> Bounds:
    """The limits that a place is held against."""
    low, high = limits
    return None if against is LimitSide.MOST else low, None if against is LimitSide.LEAST else high


def written_out(job: Job, node: Node) -> Node:
    """The sum with every name that is a sum itself written out, so that each choice in it can be drawn."""
    match node:
        case Name(name):
            of = next((n.of for n in job.named if n.name == name and not n.instrument and not n.cut), None)
            return node if of is None else written_out(job, of)
        case Negated(inner):
            return Negated(written_out(job, inner))
        case Binary(sign, left, right):
            return Binary(sign, written_out(job, left), written_out(job, right))
        case Choice(word, among):
            return Choice(word, tuple(written_out(job, one) for one in among))
        case _:
            return node


def _ways(job: Job, spec: FitSpec) -> Iterator[dict[str, int]]:
    """The copies that belong to it: every combination of those whose number is not written.

    With more than 64 ways to combine them each copy is looked at once, with one mate in turn.
    """
    names = dict.fromkeys(use.part for use in spec.uses if isinstance(use, PartSize) and use.copy is None)
    copies = [job.part(name).copies for name in names]
    ways: Iterator[Sequence[int]]
    if prod(len(one) for one in copies) <= _MOST_WAYS:
        ways = product(*copies)
    else:
        ways = islice(zip(*(cycle(one) for one in copies), strict=True), max(map(len, copies)))
    return (dict(zip(names, way, strict=True)) for way in ways)


def _over(mean: float, low: float | None, high: float | None) -> float:
    """How far the mean lies beyond its limits; below 0 inside. It tells which of several sure ones is the worst."""
    sides = ([] if low is None else [low - mean]) + ([] if high is None else [mean - high])
    return max(sides, default=-1e9)
