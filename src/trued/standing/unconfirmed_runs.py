"""Runs that wait to be confirmed: their own readings show something against them.

Such a run is kept as typed. It does not enter what is believed until a second run agrees with it, with nothing touched
between, or the person confirms it; what it finds dangerous counts at once (standings.py). All of it is worked out from
the rows, so that a row taken back decides it anew.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import groupby

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.error_split import own_run
from trued.standing.feature import find_feature, named
from trued.standing.history.history import History, Result, Row
from trued.standing.outlier import SAME_CHECK, most_apart
from trued.standing.owner import WORK

CONFIRM, YES = "confirm", "yes"
"""The answer by which a person confirms a run."""
AGREE = 2.0
"""Combined standard uncertainties within which two runs agree."""

APART = ("apart", "It lies far from the run before it, with nothing touched between.")
"""What stands against a run that only a slip, or something that nobody told, explains."""

Run = tuple[Result, ...]


def confirmed_by_hand(history: History) -> tuple[str, ...]:
    """The runs that the person has confirmed."""
    return tuple(sorted({row.about for row in history.answered if row.code == CONFIRM and row.word == YES}))


def runs_of(rows: Iterable[Row]) -> Iterator[tuple[Row, ...]]:
    """Rows in order, those of one run together."""
    for _, together in groupby(rows, key=_run_of):
        yield tuple(together)


def _run_of(row: Row) -> tuple[datetime, str, object]:
    return (row.at, row.run, "") if isinstance(row, Result) else (row.at, "", row)


def lasting(rows: Iterable[Result]) -> Run:
    """What of a run has a standing: what was found of one piece of work says nothing of the next."""
    return tuple(row for row in rows if named(row.feature).thing != WORK)


def agree(one: Sequence[Result], other: Sequence[Result], scatter: EstimatedSd | None) -> bool:
    """Whether two runs found the same: all that both found differs by no more than twice its uncertainty."""
    found = {row.feature: row for row in other}
    pairs = [(row, found[row.feature]) for row in one if row.feature in found]
    return bool(pairs) and all(_agree(first, second, scatter) for first, second in pairs)


def _agree(one: Result, other: Result, scatter: EstimatedSd | None) -> bool:
    apart = own_run(one.x, one.run, scatter) - own_run(other.x, other.run, scatter)
    return abs(apart.value) <= AGREE * apart.u


def far_apart(row: Result, others: Sequence[Result], scatter: EstimatedSd | None) -> bool:
    """Whether a run lies so far from each of the others, with nothing touched between, that only a slip explains it.

    Rarer than once in 10,000 by Student's t, with all of the uncertainty of both: where a check has no scatter between
    runs of its own, errors that runs share must stand for it.
    """
    known = find_feature(row.feature)
    if not others or (known is not None and known.spread):
        return False
    return all(_far_apart(row, other, scatter) for other in others)


def _far_apart(row: Result, other: Result, scatter: EstimatedSd | None) -> bool:
    one, two = own_run(row.x, row.run, scatter), own_run(other.x, other.run, scatter)
    dof = min(one.dof, two.dof)
    rarely = most_apart(SAME_CHECK, dof)
    return abs(one.value - two.value) > rarely * math.hypot(one.u, two.u)


def without(held: Mapping[str, Run], features: Iterable[str]) -> dict[str, Run]:
    """The runs that wait, without what was touched since: it can be confirmed by nothing any more."""
    gone = set(features)
    left = {run: tuple(row for row in rows if row.feature not in gone) for run, rows in held.items()}
    return {run: rows for run, rows in left.items() if rows}
