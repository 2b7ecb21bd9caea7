"""The form that every check fills in: what it declares, what was taken, what is found."""

from trued.procedure.asks import Ask, Fact, Kind, Need, Step
from trued.procedure.declaration import Act, BetweenRuns, Check, Example, Found, Move, Reading, Seen, Taken
from trued.procedure.finding import ONE_RUN, Estimate, Finding, dangers_of, examine, noticed
from trued.procedure.reading import DANGER, take
from trued.procedure.shared.swing_facts import TURN_FACTS, asks_turn, side_read, turn_of, turn_told

__all__ = [
    "DANGER",
    "ONE_RUN",
    "TURN_FACTS",
    "Act",
    "Ask",
    "BetweenRuns",
    "Check",
    "Estimate",
    "Example",
    "Fact",
    "Finding",
    "Found",
    "Kind",
    "Move",
    "Need",
    "Reading",
    "Seen",
    "Step",
    "Taken",
    "asks_turn",
    "dangers_of",
    "examine",
    "noticed",
    "side_read",
    "take",
    "turn_of",
    "turn_told",
]
