"""Chances that were told, and what came of them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from trued.store.rows.rules import ids, needs, utc


@dataclass(frozen=True, slots=True)
class StatedRow:
    """A chance that was told to the person: that `fit` of the plan would come out."""

    id: str
    plan: str
    fit: str
    chance: float
    at: datetime

    def __post_init__(self) -> None:
        ids(self, id=self.id, plan=self.plan)
        needs(self, fit=self.fit)
        utc(self, "at")
        if not 0.0 <= self.chance <= 1.0:
            raise ValueError(f"a chance lies between 0 and 1, got {self.chance}")


@dataclass(frozen=True, slots=True)
class CameRow:
    """What came of a stated chance, by the run that measured it. The latest one counts."""

    id: str
    stated: str
    run: str
    fitted: bool
    at: datetime

    def __post_init__(self) -> None:
        ids(self, id=self.id, stated=self.stated, run=self.run)
        utc(self, "at")


@dataclass(frozen=True, slots=True)
class Told:
    """A stated chance with what came of it; None while nothing was measured."""

    stated: StatedRow
    fitted: bool | None
