"""One thing that is adjusted gets one order: of two features read from it, one leads, and the order stands there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from trued.standing.feature import find_feature, full_name, named, said
from trued.standing.feature_status import ActionKind, FeatureStatus, NextAction


def one_order(standings: Mapping[str, FeatureStatus]) -> tuple[FeatureStatus, ...]:
    """The same standings, the orders of those that are led handed over to those that lead them."""
    now = dict(standings)
    for full, standing in standings.items():
        known, parts = find_feature(full), named(full)
        if known is None or not known.led_by or not is_order(standing.next):
            continue
        leads = full_name(parts.thing, known.led_by, parts.angle)
        leader = now.get(leads)
        if leader is None:
            continue  # its check's own words ask for what is missing before anything is brought in
        now[full] = replace(
            standing, next=NextAction(ActionKind.LEAVE, f"Set together with {said(leads)}.", _why(standing))
        )
        if not is_order(leader.next) and leader.believed and not leader.stale and not leader.unread:
            now[leads] = replace(leader, next=standing.next)
    return tuple(now.values())


def is_order(step: NextAction | None) -> bool:
    """Whether something is to be turned or mended by hand."""
    return step is not None and (step.do is ActionKind.MOVE or step.mends)


def _why(standing: FeatureStatus) -> str:
    return standing.next.why if standing.next is not None else ""
