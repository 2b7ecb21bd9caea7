"""A job, its plans, and what was done about them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256

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


@dataclass(frozen=True, slots=True)
class MarkRow:
    """What was done about a ticket of a plan: `done`, or `undone` for a slip."""

    id: str
    plan: str
    ticket: str
    what: str
    at: datetime
    device: str | None = None

    def __post_init__(self) -> None:
        ids(self, id=self.id, plan=self.plan, device=self.device)
        needs(self, ticket=self.ticket)
        utc(self, "at")
        if self.what not in ("done", "undone"):
            raise ValueError(f"a mark is done or undone, got {self.what!r}")
