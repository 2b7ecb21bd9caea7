"""A plan in its book: the job as it was planned, what was answered, and every chance that was told."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path

from trued.store.ids import id_under, new_id
from trued.store.rows import JobRow, PlanRow, StatedRow
from trued.usecases.group_json import rows_of
from trued.usecases.plan_answer import Plain, answer_of
from trued.usecases.plan_view import PlanView
from trued.usecases.shop_now import opened


def numbered(view: PlanView, text: str, book: Path) -> PlanView:
    """The plan with its id, and its number among the plans of the same job in that book."""
    with opened(book) as kept:
        same = JobRow(new_id(), _name(view), text, view.made)
        before = [job for job in kept.jobs() if job.sha == same.sha]
        plans = kept.plans(job=before[0].id) if before else ()
    return replace(view, kept=new_id(), version=str(len(plans) + 1))


def keep_plan(view: PlanView, text: str, book: Path) -> None:
    """Keep the plan together with the chances that it told."""
    with opened(book) as kept:
        job = kept.add_job(JobRow(new_id(), _name(view), text, view.made))
        groups: list[Plain] = [dict(row) for row in rows_of(view.groups)] if view.groups is not None else []
        kept_answer: dict[str, Plain] = {**answer_of(view), "groups": groups}
        answer = json.dumps(_finite(kept_answer), ensure_ascii=False, allow_nan=False)
        plan = PlanRow(view.kept, job.id, view.version, view.seed, answer, view.made)
        kept.add_plan(plan, [_stated(view, fit.name, fit.expected.chance) for fit in view.fits if fit.expected])


def _stated(view: PlanView, fit: str, chance: float) -> StatedRow:
    return StatedRow(id_under(view.kept, fit), view.kept, fit, min(1.0, max(0.0, chance)), view.made)


def _name(view: PlanView) -> str:
    return view.job.name or "a job without a name"


def _finite(value: Plain) -> Plain:
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, list):
        return [_finite(item) for item in value]
    return {key: _finite(item) for key, item in value.items()} if isinstance(value, dict) else value
