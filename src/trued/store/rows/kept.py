"""A paired device, and a standing kept for speed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from trued.store.rows.rules import ids, needs, utc


@dataclass(frozen=True, slots=True)
class DeviceRow:
    """A paired device: of its key only the SHA-256 is kept. `revoked` is when it lost its right to write."""

    id: str
    name: str
    role: str
    key_sha: str
    revoked: datetime | None = None

    def __post_init__(self) -> None:
        ids(self, id=self.id)
        needs(self, name=self.name, role=self.role, key_sha=self.key_sha)
        utc(self, "revoked")


@dataclass(frozen=True, slots=True)
class StateRow:
    """A standing kept so far: that of `feature` after the row (`upto`, `upto_id`). May be thrown away at any time."""

    feature: str
    upto: datetime
    upto_id: str
    json: str

    def __post_init__(self) -> None:
        needs(self, feature=self.feature, json=self.json)
        ids(self, upto_id=self.upto_id)
        utc(self, "upto")
