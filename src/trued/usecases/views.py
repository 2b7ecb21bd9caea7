"""The values that use cases hand to the surfaces, by one name each, so that a surface knocks at one door only."""

from __future__ import annotations

from trued.drawing.shapes import Drawing
from trued.equipment.shop import Shop
from trued.job.fits.fit import FitResult
from trued.job.proof.part_inspection import PartResult
from trued.plan.check_priority import CheckPriority
from trued.plan.document import PlanDocument, PlanTicket
from trued.procedure import Check, Estimate, Finding, Flag, Move, Reading, ReadingSpec, SetupFact
from trued.standing.amounts.hand import Hand
from trued.standing.feature_status import FeatureStatus
from trued.standing.history.event import Event

__all__ = [
    "Check",
    "CheckPriority",
    "Drawing",
    "Estimate",
    "Event",
    "FeatureStatus",
    "Finding",
    "FitResult",
    "Flag",
    "Hand",
    "Move",
    "PartResult",
    "PlanDocument",
    "PlanTicket",
    "Reading",
    "ReadingSpec",
    "SetupFact",
    "Shop",
]
