"""What is believed of each feature now, as a pure function of the history and the time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from trued.errors import Question
from trued.measure.decision import Conformity, Side, ToleranceLimits
from trued.measure.estimate import UncertainValue
from trued.standing.amounts.hand import Hand
from trued.units.dates import day


class ActionKind(StrEnum):
    """What comes next for a feature."""

    MOVE = "move"
    MEASURE = "measure"
    LEAVE = "leave"
    LOOK = "look"  # something is wrong with the fixture or the readings: find it before anything is turned


@dataclass(frozen=True, slots=True)
class NextAction:
    """The next action. `amount` (rad or mm, 0 or more) is there for a move only. After a move, and after what is
    mended, `check` is run: `text` leaves that to whoever shows it.

    approach: the direction by which to come to the place, so that the play of the screw always lies to one side.
    order: what is turned which way, in words that name the part; "" where something is set, read or mended.
    mends: it is out and nothing follows its moves: how it is mended is told by what its check found.
    hand: the amount in the one unit that the hand reads.
    after: where it will stand after the move, and the half width of the interval that holds it 95 times in 100, in the
           feature's unit; `expect` says it in words.
    """

    do: ActionKind
    text: str
    why: str
    direction: str = ""
    amount: float | None = None
    check: str = ""
    approach: str = ""
    order: str = ""
    mends: bool = False
    hand: Hand | None = None
    after: tuple[float, float] | None = None
    expect: str = ""


@dataclass(frozen=True, slots=True)
class LookAgain:
    """When to look at it again: after any of `events` (in words), after `uses` sessions, or on `date`, whichever comes
    first. None: it does not wander by itself, as far as is known."""

    events: tuple[str, ...]
    uses: int | None
    date: datetime | None

    @property
    def text(self) -> str:
        """One sentence for a person."""
        if self.uses is not None and self.date is not None:
            return f"Check again after {self.uses} sessions or by {day(self.date)}."
        return "No drift expected."


@dataclass(frozen=True, slots=True)
class FeatureStatus:
    """One feature as it stands. `x` carries its sources; `runs` counts findings since it was last touched.

    since:   the first finding since then, or the last one before.
    stale:   what happened since the last finding, in words; a stale standing proves nothing.
    blunder: `ends-swapped-or-reversed`, `screw-not-touching`, `over-correction`, `lock-slips`, `clamp-moves-fence` or
             `backlash`, once its chance is 90 % or more; or the slip that is asked about (standing/filtered/slip.py).
    response: what part of a commanded move arrives, and its standard uncertainty; None where nothing is turned.
    set_aside: findings since it was last touched that do not count, in words.
    look_again: when it is to be looked at again; None while it is not proven in.
    asked: what only the person can tell before anything more is said of it; nothing is ordered while it is open.
    side: beyond which limit it is proven out; None for every other decision.
    scatter_source: where what is known of its check's repeat comes from: `assumed`, `bar-play` (checked before, and the
             caliper too), or `seen` here; "" where the check has no scatter between runs.
    unread: the newest run, where that waits to be confirmed; "" else. `dangers`: what can hurt someone, in sentences.
    """

    feature: str
    unit: str
    x: UncertainValue
    limits: ToleranceLimits | None
    chance_in: float | None
    decision: Conformity | None
    since: datetime
    runs: int
    stale: tuple[str, ...] = ()
    next: NextAction | None = None
    safety: bool = False
    blunder: str = ""
    response: tuple[float, float] | None = None
    set_aside: tuple[str, ...] = ()
    look_again: LookAgain | None = None
    side: Side | None = None
    unread: str = ""
    dangers: tuple[str, ...] = ()
    asked: Question | None = None
    scatter_source: str = ""

    @property
    def confirmed(self) -> bool:
        """Whether no newer run waits to be confirmed."""
        return not self.unread

    @property
    def believed(self) -> bool:
        """Whether anything that counts was found; else `x` is what the run that waits found, and teaches nothing."""
        return self.runs > 0 or not self.unread
