"""The errors of one run as a history sees them: which it shares with other runs, and which are its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from trued.measure.distribution.standard_deviation import Scatter
from trued.measure.estimate import Source, Uncertain

RUN, LIMIT = "run:", "limit:"
COMMON = (LIMIT, "board:", "gauge:")
"""Errors that another run with the same instrument, board or gauge has again: no number of runs makes them smaller."""


@dataclass(frozen=True, slots=True)
class Split:
    """A finding's variance by whose it is: scatter between runs (`gain` times it) and its readings' own; and the errors
    that it has in `common` with other runs, with their sensitivities."""

    run: float
    gain: float
    readings: float
    common: dict[Source, float]

    @property
    def own(self) -> float:
        """All that is drawn anew in each run."""
        return self.run + self.readings


def split(x: Uncertain, scatter: Scatter | None) -> Split:
    """`scatter` replaces what the run took for the scatter between runs by what is known of it now."""
    run = gain = readings = 0.0
    common: dict[Source, float] = {}
    for source, c in x.parts.items():
        key = source.key
        if key.startswith(RUN):
            gain += abs(c)
            run += (c * (source.u if scatter is None else scatter.s)) ** 2
        elif key.startswith(COMMON):
            common[source] = c
        else:
            readings += (c * source.u) ** 2
    return Split(run, gain, readings, common)


def blended(parts: Iterable[tuple[float, Mapping[Source, float]]]) -> dict[Source, float]:
    """Sensitivities of a weighted sum of findings to the errors that they share."""
    total: dict[Source, float] = {}
    for weight, own in parts:
        for source, c in own.items():
            total[source] = total.get(source, 0.0) + weight * c
    return total


def own_run(x: Uncertain, run: str, scatter: Scatter | None) -> Uncertain:
    """The finding with every source that no other run shares marked as this run's own.

    `scatter` replaces what the run took for the scatter between runs by what is known of it now.
    """
    return Uncertain(x.value, {_owned(source, run, scatter): c for source, c in x.parts.items()})


def _owned(source: Source, run: str, scatter: Scatter | None) -> Source:
    if source.key.startswith(COMMON):
        return source
    key = source.key if source.key.endswith(f"@{run}") else f"{source.key}@{run}"
    if source.key.startswith(RUN) and scatter is not None:
        return replace(source, key=key, u=scatter.s, dof=scatter.dof)
    return replace(source, key=key)


def run_source(x: Uncertain) -> tuple[Source, float] | None:
    """The source that stands for the scatter between runs, and its sensitivity; None when the check has none."""
    found = ((source, c) for source, c in x.parts.items() if source.key.startswith(RUN) and c != 0.0)
    return next(found, None)
