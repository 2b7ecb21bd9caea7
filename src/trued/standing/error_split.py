"""The errors of one run as a history sees them: which it shares with other runs, and which are its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue

RUN, LIMIT = "run:", "limit:"
COMMON = (LIMIT, "board:", "gauge:")
"""Errors that another run with the same instrument, board or gauge has again: no number of runs makes them smaller."""


@dataclass(frozen=True, slots=True)
class ErrorSplit:
    """A finding's variance by whose it is: scatter between runs (`gain` times it) and its readings' own; and the errors
    that it has in `common` with other runs, with their sensitivities."""

    run: float
    gain: float
    readings: float
    common: dict[ErrorSource, float]

    @property
    def own(self) -> float:
        """All that is drawn anew in each run."""
        return self.run + self.readings


def split(x: UncertainValue, scatter: EstimatedSd | None) -> ErrorSplit:
    """`scatter` replaces what the run took for the scatter between runs by what is known of it now."""
    run = gain = readings = 0.0
    common: dict[ErrorSource, float] = {}
    for source, c in x.parts.items():
        key = source.key
        if key.startswith(RUN):
            gain += abs(c)
            run += (c * (source.u if scatter is None else scatter.s)) ** 2
        elif key.startswith(COMMON):
            common[source] = c
        else:
            readings += (c * source.u) ** 2
    return ErrorSplit(run, gain, readings, common)


def shared_covariance(parts: Iterable[tuple[float, Mapping[ErrorSource, float]]]) -> dict[ErrorSource, float]:
    """Sensitivities of a weighted sum of findings to the errors that they share."""
    total: dict[ErrorSource, float] = {}
    for weight, own in parts:
        for source, c in own.items():
            total[source] = total.get(source, 0.0) + weight * c
    return total


def own_run(x: UncertainValue, run: str, scatter: EstimatedSd | None) -> UncertainValue:
    """The finding with every source that no other run shares marked as this run's own.

    `scatter` replaces what the run took for the scatter between runs by what is known of it now.
    """
    return UncertainValue(x.value, {_owned(source, run, scatter): c for source, c in x.parts.items()})


def _owned(source: ErrorSource, run: str, scatter: EstimatedSd | None) -> ErrorSource:
    if source.key.startswith(COMMON):
        return source
    key = source.key if source.key.endswith(f"@{run}") else f"{source.key}@{run}"
    if source.key.startswith(RUN) and scatter is not None:
        return replace(source, key=key, u=scatter.s, dof=scatter.dof)
    return replace(source, key=key)


def run_source(x: UncertainValue) -> tuple[ErrorSource, float] | None:
    """The source that stands for the scatter between runs, and its sensitivity; None when the check has none."""
    found = ((source, c) for source, c in x.parts.items() if source.key.startswith(RUN) and c != 0.0)
    return next(found, None)
