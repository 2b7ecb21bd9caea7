"""The few words that every surface says alike."""

from __future__ import annotations

from trued.measure.decision import SAID, Decision
from trued.shop.feature import said as feature_said

__all__ = ["SLIP", "feature_said", "said"]

SLIP = (
    "more than 1/4 in (6 mm) off. Was it read from the end and typed in the right unit, and is it this part? "
    "It teaches nothing of the scale."
)


def said(decision: Decision | None) -> str:
    """What a person reads for a decision."""
    return SAID[decision] if decision is not None else "nothing to decide"
