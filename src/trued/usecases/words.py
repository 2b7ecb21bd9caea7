"""The few words that every surface says alike."""

from __future__ import annotations

from trued.measure.decision import SAID, Decision


def said(decision: Decision | None) -> str:
    """What a person reads for a decision."""
    return SAID[decision] if decision is not None else "nothing to decide"
