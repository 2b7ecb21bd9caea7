"""Will it go together? What each fit comes to, how far it spreads, and which error gives how much of it.

A fit that is one plain sum is judged to first order, which is exact for it. Where several copies or corners must all
fit, or the geometry is curved beyond its spread, the shops are drawn (JCGM 101). The result says which was done.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from trued.job.budget.uncertainty_budget import UncertaintyBudget, assumed_labels
from trued.job.expression.tree import Name, PartSize
from trued.job.fits.linear_fit import LimitPoint, LinearFit, bounds, look_at
from trued.job.fits.probability_range import probability_range, shifted
from trued.job.geometry.fit_spec import FitSpec
from trued.job.job import Job
from trued.measure.estimate import chance_between, interval

if TYPE_CHECKING:
    from trued.job.fits.joint_probability import JointCount, JointProbability
    from trued.job.fits.monte_carlo_fit import MonteCarloFit

FIRST_ORDER, DRAWS = "first order", "draws"
SEED = 1
"""Of the draws, where the caller gives none: the same job is always judged by the same shops."""


@dataclass(frozen=True, slots=True)
class FitResult:
    """One fit as it is expected to come out; mm.

    mean, sd, dof, interval, shares: of the place and the copies that are the least likely to fit, which `place` and
              `copies` name where others are likelier. interval: holds the true value 95 times in 100.
    chance:   that all copies lie within the limits at all places; chance_interval: where that chance itself lies 95
              times in 100, its scatters being known from few readings.
    shares:   part of the variance by source, the largest first. assumed: those sources that nothing in this shop has
              shown yet. totals: where sources interact, the part that goes with each in all; else the same as shares.
    curved:   the geometry bends within its spread, so the first order is not used.
    method:   `first order` or `draws`, of which there were so many.
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
    method: str = FIRST_ORDER
    draws: int = 0
    chance_interval: tuple[float, float] = (0.0, 1.0)
    totals: Mapping[str, float] = field(default_factory=dict)
    place: str = ""


@dataclass(frozen=True, slots=True)
class JobResult:
    """All fits of a job, and the chance that all of them hold in one and the same piece; None without any fit."""

    fits: tuple[FitResult, ...]
    chance: float | None
    chance_interval: tuple[float, float] | None
    method: str
    draws: int = 0


def judge_fits(budget: UncertaintyBudget, *, seed: int = SEED) -> tuple[FitResult, ...]:
    """Every fit of the job whose sizes are known, in the order written. `waiting_fits` are the others."""
    return judge_job(budget, seed=seed).fits


def judge_fit(budget: UncertaintyBudget, spec: FitSpec, *, seed: int = SEED) -> FitResult:
    """One fit, over all its copies and places. KeyError when it rests on a size that is held back."""
    return _judged(budget, (look_at(budget, spec),), seed).fits[0]


def judge_job(budget: UncertaintyBudget, *, seed: int = SEED) -> JobResult:
    """The fits that can be judged, and whether it all goes together."""
    return _judged(budget, looked_at(budget), seed)


def looked_at(budget: UncertaintyBudget) -> tuple[LinearFit, ...]:
    """Every fit whose sizes are known."""
    waiting = waiting_fits(budget.job)
    return tuple(look_at(budget, spec) for spec in budget.job.fits if spec not in waiting)


def together_of(budget: UncertaintyBudget) -> JointProbability:
    """Those fits, ready to be drawn in one and the same shops."""
    from trued.job.fits.joint_probability import put_together

    return put_together(looked_at(budget))


def waiting_fits(job: Job) -> tuple[FitSpec, ...]:
    """Fits that rest on a size that is still to be measured."""
    return tuple(spec for spec in job.fits if any(_held_back(job, use) for use in spec.uses))


def _held_back(job: Job, use: Name | PartSize) -> bool:
    if isinstance(use, Name):
        return any(named.name == use.name and named.exact_mm is None for named in job.named)
    return job.part(use.part).held_back


def _judged(budget: UncertaintyBudget, looked: Sequence[LinearFit], seed: int) -> JobResult:
    """One plain sum alone needs no draws; several fits together always do."""
    if not looked:
        return JobResult((), None, None, FIRST_ORDER)
    counted = None
    if len(looked) > 1 or not looked[0].one_sum:
        from trued.job.fits.joint_probability import count, put_together

        counted = count(put_together(looked), seed)
    lacking = assumed_labels(budget)
    found = [_result(one, number, counted, lacking, seed) for number, one in enumerate(looked)]
    if counted is None:
        return JobResult((found[0],), found[0].chance, found[0].chance_interval, FIRST_ORDER)
    chance = (
        min(counted.together / counted.draws, *(fit.chance for fit in found)) if len(found) > 1 else found[0].chance
    )
    least = min(found, key=lambda fit: fit.chance)
    range_ = shifted(chance, least.chance, least.chance_interval, counted.draws)
    return JobResult(tuple(found), chance, range_, DRAWS, counted.draws)


def _result(
    looked: LinearFit, number: int, counted: JointCount | None, lacking: frozenset[str], seed: int
) -> FitResult:
    spot, worth_naming = looked.worst()
    value, place = spot.value, spot.case.places[spot.place]
    limits = bounds(looked.limits, place.against)
    bent = None if looked.geometry.straight else _bent(looked, spot, seed)
    curved, shares = bent is not None, value.shares() if bent is None else bent.shares
    by_draws = counted is not None and not looked.one_sum and (curved or len(_spots_that_differ(looked)) > 1)
    chance = chance_between(value, *limits)
    range_ = probability_range(value, *limits)
    if by_draws and counted is not None:
        from_, chance = chance, counted.each[number] / counted.draws
        range_ = shifted(chance, from_, range_, counted.draws)
    return FitResult(
        name=looked.spec.id,
        mean_mm=value.value if bent is None else bent.mean,
        sd_mm=value.u if bent is None else bent.u,
        dof=value.dof,
        chance=chance,
        interval_mm=interval(value) if bent is None else bent.interval,
        shares=shares,
        assumed=tuple(label for label in shares if label in lacking),
        curved=curved,
        copies=", ".join(f"{part}@{copy}" for part, copy in spot.case.copies.items()) if worth_naming else "",
        limits_mm=looked.limits,
        method=DRAWS if by_draws else FIRST_ORDER,
        draws=counted.draws if by_draws and counted is not None else 0,
        chance_interval=range_,
        totals=shares if bent is None else bent.totals,
        place=place.name if worth_naming else "",
    )


def _spots_that_differ(looked: LinearFit) -> set[object]:
    """The places that are not the same in every draw."""
    return {(place.value, place.against) for case in looked.cases for place in case.places}


def _bent(looked: LinearFit, spot: LimitPoint, seed: int) -> MonteCarloFit | None:
    from trued.job.fits.monte_carlo_fit import bent

    return bent(looked, spot, seed)
