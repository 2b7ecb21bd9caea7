"""The form that every check fills in: what it declares, what was taken, what is found."""

from trued.procedure.asks import NOT_0, NOT_0_THERE, Kind, Need, ReadingSpec, SetupFact, Step
from trued.procedure.declaration import (
    Check,
    Example,
    FeatureResult,
    Flag,
    IntermediatePrecision,
    Move,
    Reading,
    RunInput,
    Severity,
)
from trued.procedure.finding import ONE_RUN, Estimate, Finding, dangers_of, examine, noticed
from trued.procedure.reading import DANGER, take
from trued.procedure.shared.swing_facts import TURN_FACTS, asks_turn, side_read, turn_of, turn_told
from trued.standing.declared import Actuator, AddedUncertainty, Feature, per_quarter

__all__ = [
    "DANGER",
    "NOT_0",
    "NOT_0_THERE",
    "ONE_RUN",
    "TURN_FACTS",
    "Actuator",
    "AddedUncertainty",
    "Check",
    "Estimate",
    "Example",
    "Feature",
    "FeatureResult",
    "Finding",
    "Flag",
    "IntermediatePrecision",
    "Kind",
    "Move",
    "Need",
    "Reading",
    "ReadingSpec",
    "RunInput",
    "SetupFact",
    "Severity",
    "Step",
    "asks_turn",
    "dangers_of",
    "examine",
    "noticed",
    "per_quarter",
    "side_read",
    "take",
    "turn_of",
    "turn_told",
]
