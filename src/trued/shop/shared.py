"""The errors of one run as a history sees them: which it shares with other runs, and which are its own."""

from __future__ import annotations

from dataclasses import replace

from trued.measure.estimate import Source, Uncertain
from trued.measure.scatter import Scatter

RUN, LIMIT = "run:", "limit:"


def own_run(x: Uncertain, run: str, scatter: Scatter | None) -> Uncertain:
    """The finding with every source but the instrument's limit marked as this run's own.

    `scatter` replaces what the run took for the scatter between runs by what is known of it now.
    """
    return Uncertain(x.value, {_owned(source, run, scatter): c for source, c in x.parts.items()})


def _owned(source: Source, run: str, scatter: Scatter | None) -> Source:
    if source.key.startswith(LIMIT):
        return source
    key = source.key if source.key.endswith(f"@{run}") else f"{source.key}@{run}"
    if source.key.startswith(RUN) and scatter is not None:
        return replace(source, key=key, u=scatter.s, dof=scatter.dof)
    return replace(source, key=key)


def run_variance(x: Uncertain) -> float:
    """The part of a finding's variance that is owed to the scatter between runs."""
    return sum((c * source.u) ** 2 for source, c in x.parts.items() if source.key.startswith(RUN))


def variances(x: Uncertain, scatter: Scatter | None) -> tuple[float, float]:
    """A finding's variance, and the part of it owed to the scatter between runs, as `own_run` would have them."""
    total = run = 0.0
    for source, c in x.parts.items():
        of_runs = source.key.startswith(RUN)
        square = (c * (scatter.s if of_runs and scatter is not None else source.u)) ** 2
        total += square
        run += square if of_runs else 0.0
    return total, run


def run_source(x: Uncertain) -> tuple[Source, float] | None:
    """The source that stands for the scatter between runs, and its sensitivity; None when the check has none."""
    found = ((source, c) for source, c in x.parts.items() if source.key.startswith(RUN) and c != 0.0)
    return next(found, None)


def read_variance(x: Uncertain) -> float:
    """The part that is drawn anew in each run but is no scatter between runs: the readings' own."""
    parts = ((source, c) for source, c in x.parts.items() if not source.key.startswith((RUN, LIMIT)))
    return sum((c * source.u) ** 2 for source, c in parts)
