"""A job, its plans, and what was done about them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from math import inf

from trued.store.rows.rules import ids, needs, utc


@dataclass(frozen=True, slots=True)
class JobRow:
    """A job file as it was planned. The same text is the same job: `sha` tells."""

    id: str
    name: str
    text: str
    made: datetime

    def __post_init__(self) -> None:
        ids(self, id=self.id)
        needs(self, name=self.name, text=self.text)
        utc(self, "made")

    @property
    def sha(self) -> str:
        """SHA-256 of the text."""
        return sha256(self.text.encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One plan of a job. `version` is that of the planning, `json` what it answered, `frozen` when cutting began."""

    id: str
    job: str
    version: str
    seed: int
    json: str
    made: datetime
    frozen: datetime | None = None

    def __post_init__(self) -> None:
        ids(self, id=self.id, job=self.job)
        needs(self, version=self.version, json=self.json)
        utc(self, "made", "frozen")


MARKS = ("done", "undone", "skipped", "wrong")
"""What can become of a ticket."""


@dataclass(frozen=True, slots=True)
class MarkRow:
    """What became of a ticket of a plan: `done`, `skipped` for a `reason`, cut `wrong`, or `undone`: open again.

    reason: why it was skipped, as it was typed. size_mm: what the wrong cut measured, where that was told.
    """

    id: str
    plan: str
    ticket: str
    what: str
    at: datetime
    device: str | None = None
    reason: str | None = None
    size_mm: float | None = None

    def __post_init__(self) -> None:
        ids(self, id=self.id, plan=self.plan, device=self.device)
        needs(self, ticket=self.ticket)
        utc(self, "at")
        if self.what not in MARKS:
            raise ValueError(f"a mark is one of {', '.join(MARKS)}, got {self.what!r}")
        if bool(self.reason) != (self.what == "skipped") or self.reason == "":
            raise ValueError(f"a skipped ticket has a reason and no other has one, got {self.what} {self.reason!r}")
        if self.size_mm is not None and not (self.what == "wrong" and 0 < self.size_mm < inf):
            raise ValueError(f"a size is above 0 and that of a wrong cut, got {self.what} {self.size_mm!r} mm")
