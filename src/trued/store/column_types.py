"""How a time and a few words lie in a column."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import DateTime, Dialect, Text, TypeDecorator


class UtcTime(TypeDecorator[datetime]):
    """A moment, always in UTC: SQLite knows no time zones, so the zone is taken off on the way in and put back."""

    impl = DateTime
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment without its zone; ValueError when it has none to take off."""
        del dialect
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"a time needs its zone, got {value.isoformat()}")
        return value.astimezone(UTC).replace(tzinfo=None)

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        """The moment in UTC."""
        del dialect
        return None if value is None else value.replace(tzinfo=UTC)


class Words(TypeDecorator[Mapping[str, Any]]):
    """A mapping of names to words, numbers and lists of them, as JSON text."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Mapping[str, Any] | None, dialect: Dialect) -> str | None:
        """The same mapping is always the same text."""
        del dialect
        return None if value is None else json.dumps(dict(value), sort_keys=True, ensure_ascii=False, allow_nan=False)

    def process_result_value(self, value: Any, dialect: Dialect) -> Mapping[str, Any] | None:
        """The mapping."""
        del dialect
        return None if value is None else dict(json.loads(value))
