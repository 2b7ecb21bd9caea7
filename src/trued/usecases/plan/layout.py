"""The layout of a job, within the time that the person gives."""

from __future__ import annotations

import time
from collections.abc import Callable
from fractions import Fraction

from trued.errors import InputRefused
from trued.job.job import Job
from trued.plan.from_job import rules_of, stocks_of, wants_of
from trued.plan.lay_out import lay_out
from trued.plan.layout.result import Layout, NoLayout, Show, SoFar, TooLarge
from trued.plan.layout.strip_order import tidied
from trued.plan.stations.break_down import broken_down
from trued.plan.stations.station import Reach


def laid_out(
    job: Job,
    kerf_mm: Fraction,
    reach: Reach,
    *,
    seed: int,
    effort: int,
    seconds: float | None,
    show: Show,
    stop: Callable[[], bool] | None = None,
    told: Callable[[SoFar], None] | None = None,
) -> Layout | NoLayout | None:
    """Where every part comes from; None when there is nothing to lay out.

    `seed` and `effort` alone decide the answer; `seconds` and `stop` only cut the search short, and the best so far
    is the answer. `told` hears of every cheaper layout as it is found.
    What the stations of the shop reach decides where a sheet is broken down over size first.
    InputRefused for a part that is larger than every piece of stock.
    """
    wants = wants_of(job)
    if not wants:
        return None
    stocks = stocks_of(job)
    rules = rules_of(job, kerf_mm, seed=seed, effort=effort, time_up=_until(seconds, stop))
    found = lay_out(stocks, wants, rules, told)
    if isinstance(found, NoLayout) and isinstance(found.reason, TooLarge) and found.reason.rooms:
        raise InputRefused.of(f'[[part]] "{found.reason.want}"', "", found.text(show))
    if isinstance(found, NoLayout):
        return found
    return broken_down(tidied(found, stocks, wants, rules), stocks, wants, rules, reach)


def _until(seconds: float | None, stop: Callable[[], bool] | None) -> Callable[[], bool] | None:
    if seconds is None:
        return stop
    end = time.monotonic() + seconds
    return lambda: time.monotonic() >= end or (stop is not None and stop())
