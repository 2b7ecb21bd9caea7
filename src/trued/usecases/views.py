"""The values that use cases hand to the surfaces, by one name each, so that a surface knocks at one door only."""

from __future__ import annotations

from trued.drawing.shapes import Drawing
from trued.job.fits.fit import FitResult
from trued.job.proof.part_inspection import Verdict
from trued.plan.document import PlanDocument, PlanTicket
from trued.procedure import Ask, Check, Estimate, Fact, Finding, Move, Reading, Seen
from trued.standing.amounts.hand import Hand
from trued.standing.feature_status import Standing
from trued.standing.history.event import Event

__all__ = [
    "Ask",
    "Check",
    "Drawing",
    "Estimate",
    "Event",
    "Fact",
    "Finding",
    "FitResult",
    "Hand",
    "Move",
    "PlanDocument",
    "PlanTicket",
    "Reading",
    "Seen",
    "Standing",
    "Verdict",
]
