"""What was turned, what happened, what was answered, and the whole history."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from trued.store.rows.rules import correction, ids, needs, utc
from trued.store.rows.run import StoredRun


@dataclass(frozen=True, slots=True)
class MoveRow:
    """What was really turned: `amount` in `unit` (rad or mm), `typed` as the person gave it."""

    id: str
    feature: str
    at: datetime
    typed: str
    amount: float
    unit: str
    direction: str
    device: str | None = None
    supersedes: str | None = None
    withdrawn: bool = False

    def __post_init__(self) -> None:
        ids(self, id=self.id, device=self.device, supersedes=self.supersedes)
        needs(self, feature=self.feature, typed=self.typed, direction=self.direction)
        utc(self, "at")
        correction(self, self.id, self.supersedes, self.withdrawn)
        if self.unit not in ("rad", "mm") or not math.isfinite(self.amount):
            raise ValueError(f"a move is a finite number of rad or mm, got {self.amount} {self.unit}")


@dataclass(frozen=True, slots=True)
class EventRow:
    """What happened to the shop: its kind, and the thing it happened to (may be empty)."""

    id: str
    kind: str
    at: datetime
    subject: str = ""
    device: str | None = None
    supersedes: str | None = None
    withdrawn: bool = False

    def __post_init__(self) -> None:
        ids(self, id=self.id, device=self.device, supersedes=self.supersedes)
        needs(self, kind=self.kind)
        utc(self, "at")
        correction(self, self.id, self.supersedes, self.withdrawn)


@dataclass(frozen=True, slots=True)
class AnswerRow:
    """What was answered: `word` to the question `code` about `about` (the id of a row, or a name)."""

    id: str
    about: str
    code: str
    word: str
    at: datetime
    device: str | None = None
    supersedes: str | None = None
    withdrawn: bool = False

    def __post_init__(self) -> None:
        ids(self, id=self.id, device=self.device, supersedes=self.supersedes)
        needs(self, about=self.about, code=self.code, word=self.word)
        utc(self, "at")
        correction(self, self.id, self.supersedes, self.withdrawn)


@dataclass(frozen=True, slots=True)
class HistoryRows:
    """All that a standing rests on, each in the order of (time, id), corrections in place.

    arrived: of rows that say the same moment, the order in which they came in, by id.
    """

    runs: tuple[StoredRun, ...]
    moves: tuple[MoveRow, ...]
    events: tuple[EventRow, ...]
    answers: tuple[AnswerRow, ...] = ()
    arrived: Mapping[str, int] = field(default_factory=dict, compare=False)
