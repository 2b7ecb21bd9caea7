"""A dial indicator that rides in the slot: which way its numbers run, asked once for all its readings.

A tip that is pushed in has come nearer. Where the number then grows, a larger number means a smaller distance.
"""

from __future__ import annotations

from trued.procedure.asks import Kind, ReadingSpec
from trued.procedure.declaration import RunInput

DIAL_ASK = ReadingSpec(
    "dial",
    "what the number does when the tip is pushed in (grows or shrinks), or distance where the distance from the slot "
    "itself was read",
    kind=Kind.CHOICE,
    choices=("grows", "shrinks", "distance"),
)


def dial_sign(taken: RunInput) -> float:
    """What a difference of two readings is times, to be one of two distances."""
    return -1.0 if taken.choice(DIAL_ASK.name) == "grows" else 1.0
