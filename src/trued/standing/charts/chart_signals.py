"""Signals of the control charts in the findings of a feature since it was last touched, each as a sentence."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from trued.measure.series.control_charts import SIGMAS, cusum, ewma, individuals
from trued.standing.error_split import split
from trued.standing.history.history import Result, Row

FEWEST = 5  # findings with nothing touched between; fewer are no chart
BY_RANGES = 8  # so many, and their own moving ranges tell better than what is taken for usual
START = 4  # the first findings, whose mean the later ones are held against
WEIGHT = 0.3  # of the newest finding in the running mean
MOST_NAMED = 4  # days; more of them are not listed one by one
SLACK, DECIDE = 0.5, 5.0  # standard deviations: k and h of the CUSUM, for a shift of one (e-Handbook 6.3.2.3)


def untouched(rows: Sequence[Row]) -> tuple[Result, ...]:
    """The findings since the last move or event, by the check that made the last of them."""
    found: list[Result] = []
    for row in reversed(rows):
        if not isinstance(row, Result):
            break
        found.append(row)
    return tuple(row for row in reversed(found) if row.check == found[0].check)


def signals(found: Sequence[Result], said: Callable[[float], str]) -> Iterator[str]:
    """One sentence for each chart that shows something; `said` puts an amount into words."""
    if len(found) < FEWEST:
        return
    values = [row.x.value for row in found]
    yield from _far(found, values, said)
    s, target, later = _standard(found, values), math.fsum(values[:START]) / START, found[START:]
    yield from _crept(later, target, s)
    yield from _gone(later, target, s, said)


def _crept(later: Sequence[Result], target: float, s: float) -> Iterator[str]:
    """The slack takes up what is not known of the target itself."""
    slack = (SLACK + 1.0 / math.sqrt(START)) * s
    sums = cusum([row.x.value for row in later], target, slack, DECIDE * s)
    if not sums.out:
        return
    place = sums.out[0]
    way = "up" if sums.up[place] >= sums.down[place] else "down"
    yield (
        f"Since {later[sums.begun(place)].at:%Y-%m-%d} the findings have crept {way} (CUSUM, signal on "
        f"{later[place].at:%Y-%m-%d}): it wanders, or something was touched that nobody told."
    )


def _gone(later: Sequence[Result], target: float, s: float, said: Callable[[float], str]) -> Iterator[str]:
    """The limits are as much wider as the target is not known."""
    own = WEIGHT / (2.0 - WEIGHT)
    running = ewma([row.x.value for row in later], target, s, WEIGHT, SIGMAS * math.sqrt(1.0 + 1.0 / START / own))
    if not running.out:
        return
    place = running.out[0]
    yield (
        f"On {later[place].at:%Y-%m-%d} the running mean of the findings had gone "
        f"{said(running.values[place] - target)} from where they began (EWMA, limit {said(running.high - target)}): "
        "look whether something has moved."
    )


def _far(found: Sequence[Result], values: Sequence[float], said: Callable[[float], str]) -> Iterator[str]:
    """Single findings far from the others, in one sentence; each is held against the mean of all."""
    s, centre = _standard(found, values), math.fsum(values) / len(values)
    far = [row for row in found if abs(row.x.value - centre) > SIGMAS * s]
    if not far:
        return
    days = [f"{row.at:%Y-%m-%d}" for row in far]
    most = max((row.x.value - centre for row in far), key=abs)
    lies = f"The finding of {days[0]} lies" if len(far) == 1 else f"The findings of {_listed(days)} lie up to"
    yield (
        f"{lies} {said(most)} from the mean of the {len(values)} since it was last touched (individuals chart, limit "
        f"{said(SIGMAS * s)}): read {'it' if len(far) == 1 else 'them'} again, or find what was different "
        f"{'that day' if len(far) == 1 else 'on those days'}."
    )


def _listed(days: Sequence[str]) -> str:
    """All days, each once; of very many the first and the last."""
    each = list(dict.fromkeys(days))
    if len(each) > MOST_NAMED:
        return f"{len(each)} days from {each[0]} to {each[-1]}"
    return " and ".join(part for part in (", ".join(each[:-1]), each[-1]) if part)


def _standard(found: Sequence[Result], values: Sequence[float]) -> float:
    """Standard deviation of one finding: by the moving ranges of many, else as each of them was taken to have."""
    if len(values) >= BY_RANGES:
        return individuals(values).s
    own = [split(row.x, None).own for row in found]
    return math.sqrt(math.fsum(own) / len(own))
