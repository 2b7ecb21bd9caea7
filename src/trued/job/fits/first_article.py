"""If the first part of every setting is measured and the stop corrected before the others are cut: what it brings."""

from __future__ import annotations

from dataclasses import replace

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.fits.fit import SEED, JobResult, judge_job
from trued.job.groups import SLED
from trued.measure.instrument import DEFAULTS, Instrument

_CALIPER, _STICK = "caliper", "stick"


def after_first_article(budget: UncertaintyBudget, *, seed: int = SEED) -> JobResult:
    """The fits with every stop corrected by its first part.

    A part that the person's caliper spans is read with it, a longer one against a stick of known length.
    """
    tested: dict[str, Instrument] = {}
    for copy, group in ((copy, budget.groups[copy]) for copy in budget.groups):
        part = budget.job.part(copy[0])
        if group.station == SLED and group.length_setting and part.length is not None:
            tested[group.length_setting] = _instrument(budget, part.length.mm)
    return judge_job(replace(budget, tested=tested), seed=seed)


def _instrument(budget: UncertaintyBudget, length_mm: float) -> Instrument:
    caliper = next((one for one in budget.own if one.kind == _CALIPER), DEFAULTS[_CALIPER])
    if caliper.range_mm is None or length_mm <= caliper.range_mm:
        return caliper
    return next((one for one in budget.own if one.kind == _STICK), DEFAULTS[_STICK])
