"""The values that use cases hand to the surfaces, by one name each, so that a surface knocks at one door only."""

from __future__ import annotations

from trued.form import Ask, Check, Estimate, Fact, Finding, Move, Reading, Seen
from trued.job.fit import FitResult
from trued.job.proof import Verdict
from trued.plan.document import PlanDocument, PlanTicket
from trued.shapes import Drawing
from trued.shop.event import Event
from trued.shop.hand import Hand
from trued.shop.standing import Standing

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
