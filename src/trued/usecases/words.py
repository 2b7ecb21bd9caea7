"""The few words that every surface says alike."""

from __future__ import annotations

from trued.advice.side_words import out_said
from trued.measure.decision import SAID, Conformity, Side, ToleranceLimits
from trued.standing.feature import said as feature_said

__all__ = ["feature_said", "said", "verdict_said"]


def said(decision: Conformity | None) -> str:
    """What a person reads for a decision."""
    return SAID[decision] if decision is not None else "nothing to decide"


def verdict_said(decision: Conformity | None, feature: str, side: Side | None, limits: ToleranceLimits | None) -> str:
    """The same of one feature; what is out names its side: `out of tolerance: the corner is tight`."""
    return said(decision) if side is None else f"{said(decision)}: {out_said(feature, side, limits)}"
