"""Every finding of a feature that does not count: set aside, also before it was last touched, or never confirmed."""

from __future__ import annotations

from collections.abc import Mapping

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.filtered.filtered_feature import EARLIER, LATER, FilteredFeature
from trued.standing.history.history import History, Result, in_order
from trued.standing.learned.learned_state import LearnedState
from trued.standing.pooled.pooled_feature import PooledFeature
from trued.standing.unconfirmed_runs import APART, confirmed_by_hand, runs_of

WAITS = "its own readings speak against it, and no second run has agreed with it"


def ever_aside(history: History, feature: str, starts: Mapping[str, EstimatedSd] | None = None) -> dict[str, str]:
    """Run -> why its finding did not count when the feature was next touched, or does not count now."""
    known = LearnedState(starts=dict(starts or {}), confirmed=confirmed_by_hand(history))
    told: dict[str, str] = {}
    for rows in runs_of(in_order(history)):
        state = known.features.get(feature)
        mine = [row for row in rows if isinstance(row, Result) and row.feature == feature]
        if mine and state is not None and not state.fresh:
            told |= _of(state)  # this finding begins anew, and what is known forgets them
        entered = {row.run for row in known.take(*rows)}
        waits = {row.run for row in mine} - entered
        told |= {run: _why(known, run) for run in waits}
        told = {run: why for run, why in told.items() if run not in entered}
    state = known.features.get(feature)
    return told | _of(state) if state is not None else told


def _why(known: LearnedState, run: str) -> str:
    """Far from the runs before it, or in doubt by its own readings."""
    return EARLIER if any(APART in row.doubts for row in known.held.get(run, ())) else WAITS


def _of(state: FilteredFeature | PooledFeature) -> dict[str, str]:
    if isinstance(state, FilteredFeature):
        return {aside.run: aside.why for aside in state.aside}
    return {row.run: LATER for row in state.aside}
