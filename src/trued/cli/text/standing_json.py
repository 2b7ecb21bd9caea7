"""One standing as plain values, the same in every answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trued.cli.result import Json

if TYPE_CHECKING:
    from trued.usecases.views import FeatureStatus, Hand


def standing_json(s: FeatureStatus) -> dict[str, Json]:
    """What is believed of one feature, and its next step."""
    return {
        "feature": s.feature,
        "unit": s.unit,
        "value": s.x.value,
        "u": s.x.u,
        "dof": s.x.dof,
        "tolerance": [s.limits.low, s.limits.high] if s.limits else None,
        "chance_in": s.chance_in,
        "decision": s.decision.value if s.decision else None,
        "side": s.side.value if s.side else None,
        "since": s.since.isoformat(),
        "runs": s.runs,
        "stale": list(s.stale),
        "safety": s.safety,
        "blunder": s.blunder or None,
        "next": _next(s),
        "scatter_source": s.scatter_source or None,
        "response": list(s.response) if s.response else None,
        "set_aside": list(s.set_aside),
        "look_again": _look_again(s),
        "confirmed": s.confirmed,
        "believed": s.believed,
        "unconfirmed_run": s.unread or None,
        "dangers": list(s.dangers),
    }


def _next(s: FeatureStatus) -> Json:
    if s.next is None:
        return None
    return {
        "do": s.next.do.value,
        "text": s.next.text,
        "why": s.next.why,
        "direction": s.next.direction or None,
        "amount": s.next.amount,
        "hand": hand_json(s.next.hand),
        "check": s.next.check or None,
        "after": list(s.next.after) if s.next.after else None,
    }


def hand_json(hand: Hand | None) -> Json:
    """A move in the one unit that the hand reads."""
    return None if hand is None else {"value": hand.value, "unit": hand.unit, "text": hand.text}


def _look_again(s: FeatureStatus) -> Json:
    if s.look_again is None:
        return None
    date = s.look_again.date.isoformat() if s.look_again.date else None
    return {"events": list(s.look_again.events), "uses": s.look_again.uses, "date": date, "text": s.look_again.text}
