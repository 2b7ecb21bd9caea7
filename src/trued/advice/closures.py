"""What stays closed until a finding shows it right: proven out once, or for rips not looked at since another blade.

A move or an event that a person types opens nothing. What was proven out is open again only when it is proven in; after
another blade went on, the knife is looked at before any rip. A run that waits to be confirmed may close, never open; so
does a run in which something was seen that can hurt someone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from trued.advice.statuses import standings
from trued.equipment.shop import Shop
from trued.measure.decision import Conformity, ToleranceLimits, decide
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.feature import feature_of, full_name, named, said
from trued.standing.history.event import EVENTS
from trued.standing.history.history import History, Result
from trued.standing.learned.learned_state import fold_history
from trued.standing.owner import owner_of

FOR_RIPS = ("blade-parallel", "rip-toe", "rip-fence-angle", "knife", "knife-over-plate", "knife-under-kerf")
"""Safety features that every rip at the fence rests on."""
KNIFE = ("knife", "knife-over-plate", "knife-under-kerf")
"""Of these, what another blade makes doubtful."""
INSERT = ("insert-operator-keeper", "insert-operator-offcut", "insert-far-keeper", "insert-far-offcut")
"""Safety features that every cut on the saw rests on: all work, and the sled too, slides over the insert."""
_FENCE_ALONE = ("rip-toe", "rip-fence-angle")
"""Of these, what a rip on the sled does not rest on."""


def rests_on(*, on_sled: bool) -> tuple[str, ...]:
    """What a rip at the fence rests on, or one on the sled."""
    return tuple(bare for bare in FOR_RIPS if not (on_sled and bare in _FENCE_ALONE))


@dataclass(frozen=True, slots=True)
class Closed:
    """A safety feature for which no rip, or no cut, is made, and why, in a sentence with what opens it."""

    feature: str
    why: str

    @property
    def bare(self) -> str:
        """Its name without the thing."""
        return named(self.feature).feature


def closed_of(
    history: History, now: datetime, shop: Shop | None = None, starts: Mapping[str, EstimatedSd] | None = None
) -> tuple[Closed, ...]:
    """All that is closed by `now`. starts: the usual scatter between runs, by check."""
    return tuple(_closed(history.until(now), shop, starts))


def _closed(history: History, shop: Shop | None, starts: Mapping[str, EstimatedSd] | None) -> Iterator[Closed]:
    for bare in (*FOR_RIPS, *INSERT):
        feature = full_name(owner_of(bare, shop), bare)
        found = [row for row in history.observed if row.feature == feature]
        check = feature_of(bare).check
        if bare in KNIFE and _blade_since(history, found, starts):
            yield Closed(feature, f"Another blade went on, and the knife was not looked at since: run {check} first.")
        elif _shown_out(history, found, shop, starts):
            text = (
                f"Found out and not shown right since: {said(feature)}. Only {check} opens it again, no move or event."
            )
            yield Closed(feature, text)


def _blade_since(history: History, found: list[Result], starts: Mapping[str, EstimatedSd] | None) -> bool:
    """Whether another blade went on after the last finding that counts."""
    blades = [row.at for row in history.happened if EVENTS[row.kind].about == "blade"]
    if not blades:
        return False
    since = [row for row in found if row.at > blades[-1]]
    return not since or {row.run for row in since} <= set(fold_history(history, starts).held)


def _shown_out(
    history: History, found: list[Result], shop: Shop | None, starts: Mapping[str, EstimatedSd] | None
) -> bool:
    """Whether the last finding that decided anything proved it out, by all that was known then or by itself."""
    for row in reversed(found):
        believed = {s.feature: s.decision for s in standings(history.until(row.at), row.at, shop=shop, starts=starts)}
        if believed.get(row.feature) is Conformity.PROVEN_IN:
            return False
        if believed.get(row.feature) is Conformity.PROVEN_OUT or row.dangers or _out_by_itself(row):
            return True
    return False


def _out_by_itself(row: Result) -> bool:
    limits: ToleranceLimits | None = row.limits or feature_of(named(row.feature).feature).limits
    return limits is not None and decide(row.x, limits) is Conformity.PROVEN_OUT
