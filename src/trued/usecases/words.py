"""The few words that every surface says alike."""

from __future__ import annotations

from trued.measure.decision import SAID, Decision
from trued.shop.feature import said as feature_said

__all__ = ["feature_said", "said"]


def said(decision: Decision | None) -> str:
    """What a person reads for a decision."""
    return SAID[decision] if decision is not None else "nothing to decide"
