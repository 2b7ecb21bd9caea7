"""Plan a job: from its file to boards, order of cuts, corrected settings, fits, support and sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from trued.job.file.read import read_job
from trued.job.fits.first_article import after_first_article
from trued.job.fits.fit import waiting_fits
from trued.job.fits.tolerance_allocation import cut_to_fit, tolerances_needed
from trued.job.job import Job
from trued.plan import problem
from trued.plan.check_priority import Advice, advice
from trued.plan.layout.pieces import to_mm
from trued.plan.layout.result import Layout, NoLayout, SoFar
from trued.plan.order.one_sided import meant_mm
from trued.plan.tickets.job_cautions import cautions_for
from trued.units import Unit
from trued.usecases.plan.cutting import Cutting, cutting_of
from trued.usecases.plan.layout import laid_out
from trued.usecases.plan.planned import FitView, KerfUsed, PlanView
from trued.usecases.plan.shop import PlanShop, kerf_for, plan_shop, stations_of
from trued.usecases.plan.words import small
from trued.usecases.shop.list_checks import list_ids

Paper = Literal["letter", "a4"]
EFFORT = 2000


def plan_job(
    text: str,
    *,
    book: Path | None = None,
    shop: Path | None = None,
    kerf: str | None = None,
    seed: int = 1,
    effort: int = EFFORT,
    seconds: float | None = None,
    out: Path | None = None,
    paper: Paper = "letter",
    unit: Unit | None = None,
    at: datetime | None = None,
    key: str | None = None,
    stop: Callable[[], bool] | None = None,
    told: Callable[[SoFar], None] | None = None,
) -> PlanView:
    """Plan the job of that text for the shop of a book or of a shop file; without either, for no shop at all.

    With a book the plan and every chance that it told are kept, under the id `key` where the writer has made one.
    With `out` the sheets are written into that folder. `stop` is asked while layouts are looked for: where it says so
    the best so far is planned. `told` hears of every cheaper layout as it is found.
    InputRefused: the job, the kerf, or a folder that cannot be written; then nothing is kept or written.
    """
    now = at or datetime.now(UTC)
    here = plan_shop(book, shop, now)
    job = read_job(text, unit=unit or (here.shop.unit if here is not None else None))
    shown = unit or job.unit
    used = kerf_for(here, job, kerf, shown)
    found = laid_out(
        job,
        used.mm,
        stations_of(here, job, float(used.mm)),
        seed=seed,
        effort=effort,
        seconds=seconds,
        show=lambda units: small(to_mm(units), shown),
        stop=stop,
        told=told,
    )
    cutting = cutting_of(job, found, here, used, shown)
    view = _view(job, now, shown, seed, here, used, found, cutting)
    return _written(view, text, book, out, paper, key)


def _view(
    job: Job,
    now: datetime,
    unit: Unit,
    seed: int,
    here: PlanShop | None,
    kerf: KerfUsed,
    found: Layout | NoLayout | None,
    cutting: Cutting,
) -> PlanView:
    shop = here.shop if here is not None else None
    stations = [ticket.station for ticket in cutting.tickets]
    checks = list_ids()
    looked = advice(cutting.budget, shop, checks) if shop is not None and cutting.budget is not None else Advice((), ())
    holds = cutting.holds
    problems = tuple(_problems(job, unit, here, found, cutting, float(kerf.mm)))
    all_there = not cutting.not_made and not any(one.code in problem.SHORT for one in problems)
    return PlanView(
        job=job,
        made=now,
        unit=unit,
        seed=seed,
        kerf=kerf,
        shop=shop,
        layout=found if isinstance(found, Layout) else None,
        order=cutting.order,
        tickets=cutting.tickets,
        fits=tuple(_fits(job, cutting)),
        true_first=looked.first,
        do_not_bother=looked.do_not_bother,
        safety=cutting.safety,
        support=cutting.support if shop is not None else None,
        cautions=cautions_for(stations, shop),
        problems=problems,
        assumed=holds.assumed if holds is not None else (),
        stale=holds.stale if holds is not None else (),
        left_out=here.left_out if here is not None else (),
        groups=cutting.groups,
        whole=cutting.whole if all_there else None,
        first_parts=after_first_article(cutting.budget) if cutting.budget is not None and all_there else None,
        needed=tolerances_needed(cutting.budget) if cutting.budget is not None else (),
        cut_to_fit=cut_to_fit(cutting.budget) if cutting.budget is not None else (),
        not_made=cutting.not_made,
    )


def _problems(
    job: Job, unit: Unit, here: PlanShop | None, found: Layout | NoLayout | None, cutting: Cutting, kerf_mm: float
) -> Iterator[problem.Problem]:
    if found is not None:
        yield from problem.problem_of_layout(job, found, lambda units: small(to_mm(units), unit))
    yield from problem.problems_of_angles(job)
    yield from problem.problems_of_job(job)
    yield from problem.problems_of_shop(here.bans(kerf_mm) if here is not None else None)
    yield from cutting.problems
    for id in cutting.waiting:
        yield problem.Problem("fit-waits", id, f"{id} waits: a part that it rests on cannot be made here.")
    yield from problem.problems_of_fits(cutting.fits)


def _fits(job: Job, cutting: Cutting) -> Iterator[FitView]:
    expected = {fit.name: fit for fit in cutting.fits}
    waiting = waiting_fits(job)
    for spec in job.fits:
        if spec not in waiting and spec.id not in cutting.waiting:
            low, high = spec.at_least_mm, spec.at_most_mm
            limits = None if low is None else float(low), None if high is None else float(high)
            yield FitView(spec.id, float(meant_mm(job, spec.of)), limits, expected.get(spec.id))


def _written(view: PlanView, text: str, book: Path | None, out: Path | None, paper: Paper, key: str | None) -> PlanView:
    """Keep the plan and write its sheets, or neither."""
    if book is not None:
        from trued.usecases.plan.keep import numbered

        view = numbered(view, text, book, key)
    sheets = None
    if out is not None:
        from trued.usecases.plan.sheets import made_ready

        sheets = made_ready(view, out, paper)
        view = replace(view, sheets=(sheets.path,) if sheets is not None else ())
    if book is not None:
        from trued.usecases.plan.keep import keep_plan

        keep_plan(view, text, book)
    if sheets is not None:
        sheets.write()
    return view
