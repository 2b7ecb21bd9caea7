"""Did the parts come out? Measured parts against what the fits need, and what they teach about the saw."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from trued.errors import Faults
from trued.job.angles import needs_angles
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.expression.tree import PartSize, Side
from trued.job.fits.fit import FitResult, judge_fits
from trued.job.geometry.fit_spec import FitSpec
from trued.job.proof.proof_reading import Measurand, ProofReading
from trued.measure.decision import Conformity, ToleranceLimits, conformance_probability, decide
from trued.measure.estimate import UncertainValue


@dataclass(frozen=True, slots=True)
class PartResult:
    """One thing that was measured, against its limits; mm.

    name:  `shelf@2.length`, `shelf@2.length - shelf@1.length`, or the id of a fit; kind: `size`, `alike` or `gap`.
    off:   for a size, how much it is over its target; else the value itself. limits are of `off`, None where the job
           says none: then chance and decision are None too.
    """

    name: str
    kind: str
    found: UncertainValue
    off: UncertainValue
    limits: ToleranceLimits | None
    chance: float | None
    decision: Conformity | None


@dataclass(frozen=True, slots=True)
class ScaleObservation:
    """What a measured size teaches: at this reading of the scale of stop or rip fence the cut came out so long."""

    of: PartSize
    station: str
    setting: str
    reading_mm: float
    found: UncertainValue


@dataclass(frozen=True, slots=True)
class Inspection:
    """sizes, alike, gaps: what was measured, against tolerance, likeness and fits. fits: as they stand now, with the
    measured sizes in place of those expected. lessons: for the standing of the scales."""

    sizes: tuple[PartResult, ...]
    alike: tuple[PartResult, ...]
    gaps: tuple[PartResult, ...]
    fits: tuple[FitResult, ...]
    lessons: tuple[ScaleObservation, ...]


def prove(budget: UncertaintyBudget, readings: Sequence[ProofReading]) -> Inspection:
    """The proof of what was measured. `InputRefused` where one thing was read with two instruments."""
    found = _means(readings)
    sizes = {of: value for of, value in found.items() if isinstance(of, PartSize)}
    after = replace(budget, measured={**budget.measured, **sizes})
    after = replace(after, measured=_by_difference(after, found))
    return Inspection(
        sizes=tuple(_judge_size(budget, of, value) for of, value in sizes.items()),
        alike=(*_judge_differences(budget, found), *_judge_likeness(budget, sizes)),
        gaps=tuple(_judge_gap(of, value) for of, value in found.items() if isinstance(of, FitSpec)),
        fits=judge_fits(after),
        lessons=tuple(_lessons(budget, sizes)),
    )


def _means(readings: Sequence[ProofReading]) -> dict[Measurand, UncertainValue]:
    """One uncertain value a measurand, in the order typed; a thing read again is a mean."""
    faults = Faults()
    together: dict[Measurand, list[ProofReading]] = {}
    for reading in readings:
        together.setdefault(reading.of, []).append(reading)
    found = {}
    for of, several in together.items():
        if len({reading.instrument for reading in several}) > 1:
            faults.add(name_of(of), "", "This was read with two instruments; keep the readings of the better one.")
            continue
        instrument = several[0].instrument
        found[of] = instrument.read(f"proof:{name_of(of)}", instrument.kind, [one.length.mm for one in several])
    faults.raise_if_any()
    return found


def name_of(of: Measurand) -> str:
    """What was measured, in the words of the command line."""
    if isinstance(of, tuple):
        return f"{of[0]} - {of[1]}"
    return of.id if isinstance(of, FitSpec) else str(of)


def _by_difference(
    budget: UncertaintyBudget, found: Mapping[Measurand, UncertainValue]
) -> dict[PartSize, UncertainValue]:
    """Sizes known by what they differ from a mate: the mate as measured, else as expected, and the difference."""
    known = dict(budget.measured)
    for of, difference in found.items():
        if not isinstance(of, tuple):
            continue
        first, second = of
        if first in known and second not in known:
            known[second] = known[first] - difference
        elif first not in known:
            known[first] = _size(replace(budget, measured=known), second) + difference
    return known


def _size(budget: UncertaintyBudget, of: PartSize) -> UncertainValue:
    return budget.size(of.part, of.side, of.copy or 1)


def _judge_size(budget: UncertaintyBudget, of: PartSize, found: UncertainValue) -> PartResult:
    part = budget.job.part(of.part)
    target, tolerance = part.size(of.side), part.tolerance
    cut = of.side is not Side.THICKNESS
    limits = ToleranceLimits.within(tolerance.mm) if tolerance and cut else None
    return _verdict(str(of), "size", found, found - (target.mm if target else 0.0), limits)


def _judge_differences(budget: UncertaintyBudget, found: Mapping[Measurand, UncertainValue]) -> Iterator[PartResult]:
    for of, value in found.items():
        if isinstance(of, tuple):
            same = of[0].part == of[1].part
            yield _verdict(name_of(of), "alike", value, value, _alike(budget, of[0]) if same else None)


def _judge_likeness(budget: UncertaintyBudget, sizes: Mapping[PartSize, UncertainValue]) -> Iterator[PartResult]:
    """The two copies that differ most, for every size of which two copies or more were measured."""
    families: dict[tuple[str, Side], list[PartSize]] = {}
    for of in sizes:
        families.setdefault((of.part, of.side), []).append(of)
    for family in families.values():
        limits = _alike(budget, family[0])
        if limits is None or len(family) < 2:
            continue
        first, second = max(combinations(family, 2), key=lambda pair: abs((sizes[pair[0]] - sizes[pair[1]]).value))
        apart = sizes[first] - sizes[second]
        yield _verdict(name_of((first, second)), "alike", apart, apart, limits)


def _alike(budget: UncertaintyBudget, of: PartSize) -> ToleranceLimits | None:
    alike = budget.job.part(of.part).alike
    return ToleranceLimits.within(alike.mm) if alike and of.side is not Side.THICKNESS else None


def _judge_gap(spec: FitSpec, found: UncertainValue) -> PartResult:
    low, high = spec.at_least_mm, spec.at_most_mm
    limits = ToleranceLimits(None if low is None else float(low), None if high is None else float(high))
    return _verdict(spec.id, "gap", found, found, limits)


def _verdict(
    name: str, kind: str, found: UncertainValue, off: UncertainValue, limits: ToleranceLimits | None
) -> PartResult:
    if limits is None:
        return PartResult(name, kind, found, off, None, None, None)
    return PartResult(name, kind, found, off, limits, conformance_probability(off, limits), decide(off, limits))


def _lessons(budget: UncertaintyBudget, sizes: Mapping[PartSize, UncertainValue]) -> Iterator[ScaleObservation]:
    """What cut sizes teach of the scale they were set by; a part with mitered ends was cut at another scale's zero."""
    angled = needs_angles(budget.job)
    for of, found in sizes.items():
        if of.side is Side.THICKNESS or of.copy is None or (of.side is Side.LENGTH and of.part in angled):
            continue
        group = budget.groups[of.part, of.copy]
        reading = budget.reading_mm(of.part, of.side, of.copy)
        if reading is not None:
            yield ScaleObservation(of, group.where(of.side), group.setting(of.side), reading, found)
