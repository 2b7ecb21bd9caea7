"""What is believed of each feature now, as a pure function of the history and the time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from trued.measure.decision import Decision, Limits
from trued.measure.estimate import Uncertain


class Do(StrEnum):
    """What comes next for a feature."""

    MOVE = "move"
    MEASURE = "measure"
    LEAVE = "leave"
    LOOK = "look"  # something is wrong with the fixture or the readings: find it before anything is turned


@dataclass(frozen=True, slots=True)
class Next:
    """The next action. `amount` (rad or mm, 0 or more) is there for a move only; then `check` is run."""

    do: Do
    text: str
    why: str
    direction: str = ""
    amount: float | None = None
    check: str = ""


@dataclass(frozen=True, slots=True)
class Standing:
    """One feature as it stands. `x` carries its sources; `runs` counts findings since it was last touched.

    since:   the first finding since then, or the last one before.
    stale:   what happened since the last finding, in words; a stale standing proves nothing.
    blunder: `ends-swapped-or-reversed` or `screw-not-touching`, once its chance is 90 % or more.
    response: what part of a commanded move arrives, and its standard uncertainty; None where nothing is turned.
    """

    feature: str
    unit: str
    x: Uncertain
    limits: Limits | None
    chance_in: float | None
    decision: Decision | None
    since: datetime
    runs: int
    stale: tuple[str, ...] = ()
    next: Next | None = None
    safety: bool = False
    blunder: str = ""
    response: tuple[float, float] | None = None
