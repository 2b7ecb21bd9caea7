"""The layout of a job, within the time that the person gives."""

from __future__ import annotations

import time
from collections.abc import Callable
from fractions import Fraction

from trued.errors import InputRefused
from trued.job.job import Job
from trued.plan.from_job import rules_of, stocks_of, wants_of
from trued.plan.layout import lay_out
from trued.plan.result import Layout, NoLayout, Show, TooLarge


def laid_out(
    job: Job, kerf_mm: Fraction, *, seed: int, effort: int, seconds: float | None, show: Show
) -> Layout | NoLayout | None:
    """Where every part comes from; None when there is nothing to lay out.

    `seed` and `effort` alone decide the answer; `seconds` only cuts the search short.
    InputRefused for a part that is larger than every piece of stock.
    """
    wants = wants_of(job)
    if not wants:
        return None
    rules = rules_of(job, kerf_mm, seed=seed, effort=effort, time_up=_until(seconds))
    found = lay_out(stocks_of(job), wants, rules)
    if isinstance(found, NoLayout) and isinstance(found.reason, TooLarge) and found.reason.rooms:
        raise InputRefused.of(f'[[part]] "{found.reason.want}"', "", found.text(show))
    return found


def _until(seconds: float | None) -> Callable[[], bool] | None:
    if seconds is None:
        return None
    end = time.monotonic() + seconds
    return lambda: time.monotonic() >= end
