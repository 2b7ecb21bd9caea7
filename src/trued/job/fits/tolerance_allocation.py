"""The advice the other way round: how exactly each part must be cut, and what is better cut to a measured opening.

**Least effort.** A cut that has to be twice as exact costs about twice the care, so the effort of a set of tolerances
is the sum of 1 / tolerance. A fit follows a size by its derivative c, and sizes err independently, so a fit has its
chance when the sum of (c · tolerance)² is at most its room². Least effort under that: tolerance in proportion to
c^(-2/3) (the classic reciprocal-cost allocation; Lagrange). A size that is in several fits takes the tightest.

**Cut to fit.** Where the opening is measured first and the part cut to it, all that led to the opening drops out of
the fit, and what is left is how well the opening is read and the last cut made.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from statistics import NormalDist

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.expression.tree import PartSize, Side
from trued.job.fits.fit import SEED, judge_fit, waiting_fits
from trued.job.fits.linear_fit import Bounds, LinearFit, bounds, look_at
from trued.job.geometry.kinds.diagonals import Diagonals
from trued.job.geometry.kinds.mitres import Mitres
from trued.job.geometry.unmeasured_errors import ASKEW, FLAT, LIVELY, PLACE, TAPED, TILT
from trued.measure.decision import LEVEL
from trued.measure.estimate import ErrorSource, UncertainValue, chance_between

NOT_CURED = frozenset((ASKEW, TAPED, TILT, FLAT, PLACE, LIVELY))
"""Errors that stay whatever a part is cut to."""
_STEP_MM = 1e-3
_GAIN, _GOOD = 0.05, 0.9
"""A rise of the chance below this, or to less than this, is not worth holding a part back."""


@dataclass(frozen=True, slots=True)
class AllocatedTolerance:
    """How exactly a size must be cut for its fits: its target give or take `tolerance_mm`, 95 times in 100.

    fit: the one that asks the most of it. expected_mm: what this saw keeps 95 times in 100; enough: whether that does.
    """

    part: str
    side: Side
    tolerance_mm: float
    fit: str
    expected_mm: float

    @property
    def enough(self) -> bool:
        """Whether the saw keeps it as things are."""
        return self.expected_mm <= self.tolerance_mm


@dataclass(frozen=True, slots=True)
class CutToFit:
    """A size that is better cut to what has been measured: the chance of the fit as planned, and then."""

    part: str
    side: Side
    fit: str
    chance: float
    then: float


def tolerances_needed(budget: UncertaintyBudget) -> tuple[AllocatedTolerance, ...]:
    """The tightest tolerance that the fits ask of every size that was cut, in the order of the parts."""
    tightest: dict[tuple[str, Side], tuple[float, str]] = {}
    for looked in _looked(budget):
        for of, tolerance in _allocated(budget, looked).items():
            key = of.part, of.side
            if key not in tightest or tolerance < tightest[key][0]:
                tightest[key] = tolerance, looked.spec.id
    sizes = [(part, side) for part in budget.job.parts for side in Side if (part.id, side) in tightest]
    return tuple(
        AllocatedTolerance(part.id, side, *tightest[part.id, side], _expected(budget, PartSize(part.id, side, 1)))
        for part, side in sizes
    )


def cut_to_fit(budget: UncertaintyBudget, *, read_u_mm: float = 0.05, seed: int = SEED) -> tuple[CutToFit, ...]:
    """Sizes to hold back until what they go into can be measured, the most gain first; one for each fit at most.

    Of several that would serve it is the one that is in the fewest fits, and named last: what goes in, not where.

    read_u_mm: how well an opening is read with the part held against it (0.002 in, common practice).
    """
    found = []
    for looked in _looked(budget):
        if isinstance(looked.geometry, Diagonals | Mitres):  # the angles of the ends stay, whatever length they get
            continue
        before = judge_fit(budget, looked.spec, seed=seed).chance
        trials = [_trial(budget, looked, of, before, read_u_mm) for of in _sizes(budget, looked)]
        good = [one for one in trials if one.then >= _GOOD and one.then - before >= _GAIN]
        if good and before < LEVEL:
            found.append(min(reversed(good), key=lambda one: _fits_of(budget, one.part)))
    return tuple(sorted(found, key=lambda one: one.chance - one.then))


def _fits_of(budget: UncertaintyBudget, part: str) -> int:
    """In how many fits a part is: the one that the fewest others wait for is held back."""
    return sum(any(isinstance(use, PartSize) and use.part == part for use in fit.uses) for fit in budget.job.fits)


def _looked(budget: UncertaintyBudget) -> Iterator[LinearFit]:
    waiting = waiting_fits(budget.job)
    return (look_at(budget, spec) for spec in budget.job.fits if spec not in waiting)


def _sizes(budget: UncertaintyBudget, looked: LinearFit) -> list[PartSize]:
    """The sizes of one choice of copies that are cut, not given by the stock."""
    copies = looked.cases[0].copies
    found = [
        replace(use, copy=use.copy or copies.get(use.part, 1), column=1)
        for use in looked.spec.uses
        if isinstance(use, PartSize) and use.side is not Side.THICKNESS
    ]
    return [of for of in dict.fromkeys(found) if of.copy and budget.groups[of.part, of.copy].setting(of.side)]


def _allocated(budget: UncertaintyBudget, looked: LinearFit) -> dict[PartSize, float]:
    """Tolerances of least effort for one fit; none where its limits leave no room at all."""
    slopes = {of: abs(_slope(budget, looked, of)) for of in _sizes(budget, looked)}
    slopes = {of: c for of, c in slopes.items() if c > 1e-6}
    mean = min(looked.spots(), key=lambda spot: spot.chance).value.value
    room = _room(mean, looked.limits)
    if room <= 0.0 or not slopes:
        return {}
    scale = room / math.sqrt(sum(c ** (2.0 / 3.0) for c in slopes.values()))
    return {of: scale * c ** (-2.0 / 3.0) for of, c in slopes.items()}


def _room(mean: float, limits: Bounds) -> float:
    """How far a fit may go from its mean 95 times in 100: the nearer limit; of one limit alone one-sided."""
    low, high = limits
    sides = ([] if low is None else [mean - low]) + ([] if high is None else [high - mean])
    normal = NormalDist()
    alike = normal.inv_cdf(0.5 + LEVEL / 2.0)
    return min(sides) if len(sides) == 2 else min(sides) * alike / normal.inv_cdf(LEVEL)


def _slope(budget: UncertaintyBudget, looked: LinearFit, of: PartSize) -> float:
    """How the fit follows a size of one copy."""
    size = budget.size(of.part, of.side, of.copy or 1, ends=False).value
    ends = []
    for step in (-_STEP_MM, _STEP_MM):
        moved = replace(budget, measured={**budget.measured, of: UncertainValue(size + step)})
        ends.append(look_at(moved, looked.spec).cases[0].places[0].value.value)
    return (ends[1] - ends[0]) / (2.0 * _STEP_MM)


def _expected(budget: UncertaintyBudget, of: PartSize) -> float:
    """What the saw keeps of a size 95 times in 100, either way."""
    size = budget.job.part(of.part).size(of.side)
    actual = budget.size(of.part, of.side, 1)
    off = actual.value - (size.mm if size is not None else actual.value)
    return abs(off) + NormalDist().inv_cdf(0.5 + LEVEL / 2.0) * actual.u


def _trial(budget: UncertaintyBudget, looked: LinearFit, of: PartSize, before: float, read_u: float) -> CutToFit:
    """The chance when that size is cut to the fit's middle: what is left is reading the opening, the last cut, and what
    no size cures, as a box that is out of square."""
    slope = abs(_slope(budget, looked, of))
    repeat = _last_cut(budget, of)
    cut = UncertainValue.of(
        _middle(looked),
        ErrorSource("read", "reading the opening", read_u),
        ErrorSource("cut", "the last cut", slope * repeat),
    )
    chances = (
        chance_between(cut + _not_cured(place.value), *bounds(looked.limits, place.against))
        for case in looked.cases
        for place in case.places
    )
    then = min(chances) if slope > 1e-6 else before
    return CutToFit(of.part, of.side, looked.spec.id, before, then)


def _not_cured(value: UncertainValue) -> UncertainValue:
    """What of a fit's doubt comes of putting the parts together: no size that one of them is cut to mends that."""
    return UncertainValue(0.0, {source: c for source, c in value.parts.items() if source.label in NOT_CURED})


def _last_cut(budget: UncertaintyBudget, of: PartSize) -> float:
    holds, where = budget.holds, budget.groups[of.part, of.copy or 1].where(of.side)
    if where == "sled":
        return math.hypot(holds.setting_u_mm, holds.stop_repeat_u_mm)
    if where == "rip fence":
        return math.hypot(holds.rip_setting_u_mm, holds.rip_repeat_u_mm)
    return budget.untaught.guided_saw_mm


def _middle(looked: LinearFit) -> float:
    """Where the person cuts to: the middle of two limits; beside one limit what is meant."""
    low, high = looked.limits
    if low is not None and high is not None:
        return 0.5 * (low + high)
    return looked.cases[0].places[0].value.value
