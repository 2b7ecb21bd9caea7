"""A plan in its book: the job as it was planned, what was answered, and every chance that was told."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from trued.plan.document import PlanDocument
from trued.store.ids import id_under, new_id
from trued.store.rows import JobRow, PlanRow, StatedRow
from trued.usecases.plan.document import document_of
from trued.usecases.plan.formats import written
from trued.usecases.plan.planned import PlanView
from trued.usecases.shop.shop_now import opened


def numbered(view: PlanView, text: str, book: Path, key: str | None = None) -> PlanView:
    """The plan with its id (`key` where the writer has made one), and its number among the plans of the same job."""
    with opened(book) as kept:
        same = JobRow(new_id(), _name(view), text, view.made)
        before = [job for job in kept.jobs() if job.sha == same.sha]
        plans = kept.plans(job=before[0].id) if before else ()
    return replace(view, kept=key or new_id(), version=str(len(plans) + 1))


def keep_plan(view: PlanView, text: str, book: Path) -> None:
    """Keep the plan together with the chances that it told."""
    plan = document_of(view)
    with opened(book) as kept:
        job = kept.add_job(JobRow(new_id(), _name(view), text, view.made))
        row = PlanRow(view.kept, job.id, view.version, view.seed, written(plan), view.made)
        kept.add_plan(row, _stated(plan, view.kept))


def _stated(plan: PlanDocument, id: str) -> list[StatedRow]:
    return [
        StatedRow(id_under(id, fit.name), id, fit.name, min(1.0, max(0.0, fit.chance)), plan.made)
        for fit in plan.fits
        if fit.chance is not None
    ]


def _name(view: PlanView) -> str:
    return view.job.name or "a job without a name"
