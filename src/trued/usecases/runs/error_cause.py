"""Is it the saw or the measuring: of one run without a book, or of all its untouched runs within one."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import TYPE_CHECKING

from trued.measure.decision import Conformity
from trued.measure.distribution.student import t_quantile
from trued.measure.estimate import UncertainValue
from trued.measure.series.dominant_error import Cause, DominantError
from trued.procedure import Check, FeatureResult, Finding, Severity
from trued.standing.dominant_error import saw_or_measuring
from trued.standing.error_split import own_run
from trued.standing.feature import named, said
from trued.standing.outlier import OTHER_CHECK
from trued.standing.pooled.least_squares_pool import pooled
from trued.standing.unconfirmed_runs import AGREE, APART
from trued.units import Unit
from trued.usecases.showing import brief, found_said

if TYPE_CHECKING:
    from trued.measure.distribution.standard_deviation import EstimatedSd
    from trued.standing.feature_status import FeatureStatus
    from trued.store.book import Book
    from trued.usecases.shop.shop_now import ShopNow

MOST_RUNS = 32


def cause_alone(check: Check, finding: Finding, unit: Unit) -> DominantError | None:
    """Of what one run decides, with the scatter that the check takes for usual."""
    found = _decided(finding)
    if found is None or _is_in(next(e.decision for e in finding.estimates if e.feature == found.feature)):
        return None
    return _told(check, found, (found.value,), check.between_runs.start if check.between_runs else None, unit)


def cause_here(
    book: Book, now: ShopNow, check: Check, finding: Finding, full: Mapping[str, str], unit: Unit, run: str = ""
) -> DominantError | None:
    """Of all runs of this check since the feature was last touched, with the scatter that was seen here.

    run: the one that is told of. Where it lies far from those before it, it is the method, and what to look at is said.
    """
    mine = [s for s in now.standings() if s.feature in full.values()]
    if any(s.asked is not None for s in mine):
        return None  # what explains the last run is asked first
    if (method := _method(now, check, finding, full, unit, run)) is not None:
        return method
    found = _decided(finding)
    standing = next((s for s in now.standings() if found is not None and s.feature == full.get(found.feature)), None)
    if found is None or standing is None or _is_in(standing.decision) or standing.blunder or standing.stale:
        return None
    scatter = now.scatter(check, named(standing.feature).thing)
    runs = _untouched(book, now, check, standing)
    if (method := _far_apart(check, found, runs, scatter, unit)) is not None:
        return method
    return _told(check, found, runs, scatter, unit)


def _far_apart(
    check: Check, found: FeatureResult, runs: Sequence[UncertainValue], scatter: EstimatedSd | None, unit: Unit
) -> DominantError | None:
    """The last run against those before it, by the scatter that was known without them: rarer than once in 100 by
    Student's t is no seating, but another way of doing it."""
    start = check.between_runs.start if check.between_runs is not None else None
    usual = start if scatter is None or scatter.pairs < len(runs) else scatter
    if len(runs) < 2 or usual is None:
        return None
    *others, last = (own_run(x, str(n), usual) for n, x in enumerate(runs))
    before = pooled(others)
    apart = last - before
    rarely = t_quantile(1.0 - OTHER_CHECK / 2.0, usual.dof)
    if abs(apart.value) <= rarely * apart.u:
        return None
    return _method_said(check, found, last.value, before.value, apart, unit)


def _method(
    now: ShopNow, check: Check, finding: Finding, full: Mapping[str, str], unit: Unit, run: str
) -> DominantError | None:
    """What to look at, where a run lies far from those before it with nothing touched between."""
    held = {row.feature for row in now.known.held.get(run, ()) if APART in row.doubts}
    known = {s.feature: s for s in now.standings() if s.believed}
    for found in finding.founds:
        name = full.get(found.feature, "")
        before = known.get(name)
        if before is None or not (name in held or run in now.set_aside(name)):
            continue
        apart = found.value - before.x.value
        if abs(apart.value) <= AGREE * math.hypot(found.value.u, before.x.u):
            continue  # another feature of the same run is the one that lies far off
        return _method_said(check, found, found.value.value, before.x.value, apart, unit)
    return None


def _method_said(
    check: Check, found: FeatureResult, last: float, before: float, apart: UncertainValue, unit: Unit
) -> DominantError:
    one, other = (found_said(x, found.unit, unit, found.limits, found.feature) for x in (last, before))
    called = said(found.feature)
    text = f"{called[:1].upper()}{called[1:]}: this run found {one}; before it {other}; same setup."
    return DominantError(Cause.METHOD, apart.value, apart.u, None, f"{text} {check.apart}")


def _decided(finding: Finding) -> FeatureResult | None:
    """The first feature that has a number to decide; None where a warning stands against the run."""
    if any(seen.act is not Severity.NOTE for seen in finding.seen):
        return None
    return next((found for found in finding.founds if found.spread is None and found.limits is not None), None)


def _is_in(decision: Conformity | None) -> bool:
    return decision is Conformity.PROVEN_IN


def _told(
    check: Check, found: FeatureResult, runs: Sequence[UncertainValue], scatter: EstimatedSd | None, unit: Unit
) -> DominantError | None:
    def say(number: float) -> str:
        return brief(number, found.unit, unit)

    name = said(found.feature)
    return saw_or_measuring(runs, found.limits, scatter, run_minutes=check.minutes, say=say, name=name)


def _untouched(book: Book, now: ShopNow, check: Check, standing: FeatureStatus) -> tuple[UncertainValue, ...]:
    """What this check found of a feature since it was last touched, the last run last."""
    from trued.usecases.shop.shop_now import history_of

    rows = book.history(until=now.now, since=standing.since - timedelta(milliseconds=1))
    history, _ = history_of(rows, now.shop, now.instruments)
    aside = now.set_aside(standing.feature)
    mine = (row for row in history.observed if row.feature == standing.feature and row.check == check.id)
    return tuple(row.x for row in mine if row.run not in aside)[-MOST_RUNS:]


_VERDICTS = {
    Cause.SAW: "The saw, not your measuring.",
    Cause.MEASURING: "No saw error seen. Your measuring can explain it.",
    Cause.CANNOT_TELL: "Not known yet.",
    Cause.METHOD: "The method, not the saw.",
}


def cause_said(cause: DominantError, standings: Sequence[FeatureStatus]) -> str:
    """The verdict in words, and the cheapest way to know more unless the next step turns or says the same."""
    next_ones = {s.next.do for s in standings if s.next is not None}
    told = "move" in next_ones or ("measure" in next_ones and cause.cause is Cause.CANNOT_TELL)
    begins = f"{_VERDICTS[cause.cause]} {cause.text}"
    return begins if told or not cause.cheapest else f"{begins} {cause.cheapest}"
