"""What needs no book: the checks, a run worked out, a job planned, parts judged; nothing is kept."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from trued.library.as_typed import Number, Readings, facts_typed, file_text, number_typed, readings_typed, unit_meant
from trued.units import Unit

if TYPE_CHECKING:
    from trued.usecases.plan.planned import PlanView
    from trued.usecases.runs.taking import CheckRun
    from trued.usecases.saved.inspect_parts import ProofView
    from trued.usecases.views import Check


def all_checks() -> tuple[Check, ...]:
    """Every check, those of the folders in TRUED_CHECKS among them."""
    from trued.usecases.shop.list_checks import list_checks

    return list_checks()


def find_check(id: str) -> Check:
    """The check of that id, as `five-cut`; InputRefused, with the nearest, when there is none."""
    from trued.usecases.shop.list_checks import one_check

    return one_check(id)


def evaluate(
    check: str,
    readings: Readings,
    facts: Mapping[str, Number | str] | None = None,
    *,
    unit: Unit = "in",
    tolerance: Number | str | None = None,
) -> CheckRun:
    """Work out one run of a check, by this run alone; nothing is kept.

    check:     its id, as `five-cut` (docs/checks/).
    readings:  name -> number, repeats, or places; numbers are lengths in `unit`, degrees, per cent or counts. What has
               other units (a weight, a temperature, a slope) is a text: `"12lb"`, `"70F"`, `"0.003in/ft"`.
    facts:     what the check must know of saw or fixture, as `{"fence": "far", "radius": 18}`.
    tolerance: of the check's first feature, both ways, instead of the usual one: a length in `unit`, or a text.
    Returns the run: its `finding` holds estimates and moves in mm and rad, its `verdict` the answer in words.
    Raises InputRefused with every fault; before them the faults with `where="danger"`, for what can hurt someone.
    """
    from trued.usecases.runs.run_check import run_check

    unit_meant(unit)
    limits = None if tolerance is None else number_typed(tolerance, "tolerance")
    return run_check(check, readings_typed(readings), facts_typed(check, facts), unit=unit, tolerance=limits)


def plan_job(
    job: Path | str,
    *,
    shop: Path | None = None,
    kerf: Number | str | None = None,
    unit: Unit | None = None,
    seed: int = 1,
    effort: int = 2000,
    seconds: float | None = None,
    out: Path | None = None,
    paper: Literal["letter", "a4"] = "letter",
    stop: Callable[[], bool] | None = None,
) -> PlanView:
    """Plan a job for a shop file that nothing was ever measured in, or for no shop; nothing is kept.

    job:     a `Path` of a job file, or its text (docs/job-file.md). shop: a shop file.
    kerf:    a length in `unit`, or a text; else that of the shop's blade, else the job's, else an assumed one.
    unit:    for bare numbers and words; else the shop's, else the job's.
    seed, effort, seconds: which draws, how many layouts are tried, and for how long at most; the same seed and effort
             give the same plan. stop: asked meanwhile; where it says True the best layout so far is planned.
    out:     a folder that the sheets (PDF) are written into, on `paper`.
    Raises InputRefused: the job, the shop, the kerf, the folder.
    """
    from trued.usecases.plan.plan_job import plan_job as planned

    unit_meant(unit)
    cut = None if kerf is None else number_typed(kerf, "kerf")
    return planned(
        file_text(job, "job"),
        shop=shop,
        kerf=cut,
        seed=seed,
        effort=effort,
        seconds=seconds,
        out=out,
        paper=paper,
        unit=unit,
        stop=stop,
    )


def prove_job(job: Path | str, measured: Readings, *, unit: Unit | None = None) -> ProofView:
    """Judge measured parts of a job by its tolerances and fits; nothing is kept.

    measured: `{"rail": {1: 13.016, 2: 13.018}}`, `{"side.width": {1: 3.497}}`, a difference
              `{"shelf@2-shelf@1": 0.003}`, or what a fit came to, by its name. Numbers are in `unit`, else the job's.
    Raises InputRefused with every fault.
    """
    from trued.usecases.saved.inspect_parts import prove_job as proved

    unit_meant(unit)
    return proved(file_text(job, "job"), readings_typed(measured, unit or ""), unit=unit)
