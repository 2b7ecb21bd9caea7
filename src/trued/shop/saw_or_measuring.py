"""Saw, your measuring, or cannot tell yet: of the untouched runs of one check, by what each run's errors are."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from trued.measure.decision import Limits
from trued.measure.estimate import Source, Uncertain
from trued.measure.scatter import Scatter
from trued.measure.which_dominates import Dominates, Run, which_dominates
from trued.shop.shared import COMMON, RUN, run_source


def saw_or_measuring(
    runs: Sequence[Uncertain],
    limits: Limits | None,
    scatter: Scatter | None,
    *,
    run_minutes: float,
    say: Callable[[float], str],
) -> Dominates | None:
    """What makes the distance of untouched runs of one feature from the middle of its limits.

    scatter: what is known here of the scatter between runs, these included. None where there is no middle to be off
    from, or where the check has no scatter between runs that is known: then nothing can be told apart.
    """
    between = run_source(runs[-1]) if runs else None
    if limits is None or limits.low is None or limits.high is None or between is None or scatter is None:
        return None
    wanted, gain = 0.5 * (limits.low + limits.high), abs(between[1])
    apart = [_run(x, wanted) for x in runs]
    reading = max(run.reading for run in apart)
    usual = Scatter((reading**2 + (gain * scatter.s) ** 2) ** 0.5, scatter.dof)
    return which_dominates(apart, run_minutes=run_minutes, say=say, usual=usual)


def _run(x: Uncertain, wanted: float) -> Run:
    limit = _part(x, lambda source: source.key.startswith(COMMON))
    reading = _part(x, lambda source: not source.key.startswith((RUN, *COMMON)))
    return Run(x.value - wanted, reading.u, limit.u, reading.dof)


def _part(x: Uncertain, mine: Callable[[Source], bool]) -> Uncertain:
    return Uncertain(x.value, {source: c for source, c in x.parts.items() if mine(source)})
