"""Every finding of a feature that was set aside, also before it was last touched."""

from __future__ import annotations

from collections.abc import Mapping

from trued.measure.scatter import Scatter
from trued.shop.history import History, Observed, in_order
from trued.shop.known import Known
from trued.shop.track import Track


def ever_aside(history: History, feature: str, starts: Mapping[str, Scatter] | None = None) -> dict[str, str]:
    """Run -> why its finding did not count when the feature was next touched, or does not count now."""
    known = Known(starts=dict(starts or {}))
    told: dict[str, str] = {}
    for row in in_order(history):
        state = known.features.get(feature)
        if isinstance(row, Observed) and row.feature == feature and isinstance(state, Track) and not state.fresh:
            told |= _of(state)  # this finding begins anew, and the track forgets them
        known.take(row)
    state = known.features.get(feature)
    return told | _of(state) if isinstance(state, Track) else told


def _of(state: Track) -> dict[str, str]:
    return {aside.run: aside.why for aside in state.aside}
