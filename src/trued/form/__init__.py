"""The form that every check fills in: what it declares, what was taken, what is found."""

from trued.form.declare import (
    Act,
    Ask,
    BetweenRuns,
    Check,
    Example,
    Fact,
    Found,
    Kind,
    Move,
    Need,
    Seen,
    Step,
)
from trued.form.finding import ONE_RUN, Estimate, Finding, dangers_of, examine, noticed
from trued.form.reading import DANGER, take
from trued.form.taken import Reading, Taken
from trued.form.turn_facts import TURN_FACTS, asks_turn, side_read, turn_of, turn_told

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
