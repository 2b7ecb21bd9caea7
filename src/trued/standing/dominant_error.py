"""Saw, your measuring, or not known yet: of the untouched runs of one check, by what each run's errors are."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.series.dominant_error import DominantError, Run, which_dominates
from trued.standing.error_split import COMMON, RUN, run_source


def saw_or_measuring(
    runs: Sequence[UncertainValue],
    limits: ToleranceLimits | None,
    scatter: EstimatedSd | None,
    *,
    run_minutes: float,
    say: Callable[[float], str],
    name: str = "",
) -> DominantError | None:
    """What makes the distance of untouched runs of one feature from the middle of its limits.

    scatter: what is known here of the scatter between runs, these included. None where there is no middle to be off
    from, or where the check has no scatter between runs that is known: then nothing can be told apart.
    The text names the feature, and where the middle is not nought it says so: the number is then not the one found.
    """
    between = run_source(runs[-1]) if runs else None
    if limits is None or limits.low is None or limits.high is None or between is None or scatter is None:
        return None
    wanted, gain = 0.5 * (limits.low + limits.high), abs(between[1])
    apart = [_run(x, wanted) for x in runs]
    reading = max(run.reading for run in apart)
    usual = EstimatedSd((reading**2 + (gain * scatter.s) ** 2) ** 0.5, scatter.dof)
    away = f"from the middle of what is allowed, {_signed(wanted, say)}" if wanted else "off"
    told = which_dominates(apart, run_minutes=run_minutes, say=say, usual=usual, away=away)
    named = f"{name[:1].upper()}{name[1:]}: {told.text}" if name else f"{told.text[:1].upper()}{told.text[1:]}"
    return replace(told, text=named)


def _signed(value: float, say: Callable[[float], str]) -> str:
    return f"{'-' if value < 0.0 else '+'}{say(abs(value))}"


def _run(x: UncertainValue, wanted: float) -> Run:
    limit = _part(x, lambda source: source.key.startswith(COMMON))
    reading = _part(x, lambda source: not source.key.startswith((RUN, *COMMON)))
    return Run(x.value - wanted, reading.u, limit.u, reading.dof)


def _part(x: UncertainValue, mine: Callable[[ErrorSource], bool]) -> UncertainValue:
    return UncertainValue(x.value, {source: c for source, c in x.parts.items() if mine(source)})
