"""A run of a check and its readings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from trued.store.rows.rules import Exact, correction, exact, ids, needs, utc


@dataclass(frozen=True, slots=True)
class RunRow:
    """One run of a check. `facts` are those of the fixture as typed when it ran; `unit` is that of bare numbers."""

    id: str
    check: str
    check_version: int
    started: datetime
    taken: datetime
    fixture: str = ""
    unit: str = "in"
    facts: Mapping[str, str] = field(default_factory=dict)
    device: str | None = None
    supersedes: str | None = None
    withdrawn: bool = False

    def __post_init__(self) -> None:
        ids(self, id=self.id, device=self.device, supersedes=self.supersedes)
        needs(self, check=self.check, unit=self.unit)
        utc(self, "started", "taken")
        correction(self, self.id, self.supersedes, self.withdrawn)
        object.__setattr__(self, "facts", dict(self.facts))


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One number as typed. A correction has the run and `seq` of the reading it supersedes."""

    id: str
    run: str
    seq: int
    name: str
    typed: str
    taken: datetime
    received: datetime
    station: str = ""
    unit: str = "in"
    exact_mm: Exact | None = None
    instrument: str = ""
    supersedes: str | None = None

    def __post_init__(self) -> None:
        ids(self, id=self.id, run=self.run, supersedes=self.supersedes)
        needs(self, name=self.name, typed=self.typed, unit=self.unit)
        utc(self, "taken", "received")
        exact(self, self.exact_mm)
        if self.supersedes == self.id or self.seq < 0:
            raise ValueError("a reading has a place of 0 or more in its run and cannot supersede itself")

    @property
    def as_typed(self) -> str:
        """The reading once more as it is typed on the command line: `name@station:instrument=value`."""
        station = f"@{self.station}" if self.station else ""
        instrument = f":{self.instrument}" if self.instrument else ""
        return f"{self.name}{station}{instrument}={self.typed}"


@dataclass(frozen=True, slots=True)
class StoredRun:
    """A run and its readings as they stand now, in the order typed."""

    run: RunRow
    readings: tuple[ReadingRow, ...]

    @property
    def as_typed(self) -> tuple[str, ...]:
        """Every reading once more as typed on the command line."""
        return tuple(reading.as_typed for reading in self.readings)
