"""Triggers that refuse to change or delete what the book keeps for good, whoever asks."""

from __future__ import annotations

from collections.abc import Iterator

ADDED_TO = ("run", "reading", "move", "event", "answer", "job", "mark", "stated", "came", "stock", "stock_change")
"""Tables whose rows are never changed and never deleted."""

_PLAN_STAYS = ("id", "job", "version", "seed", "json", "made")


def guards() -> Iterator[str]:
    """The triggers, as SQLite writes them."""
    for table in ADDED_TO:
        yield _refuse(f"{table}_is_kept", f"UPDATE ON {table}", f"a row of {table} is never changed")
    for table in (*ADDED_TO, "plan"):
        yield _refuse(f"{table}_stays", f"DELETE ON {table}", f"a row of {table} is never deleted")
    yield _refuse("plan_is_kept", f"UPDATE OF {', '.join(_PLAN_STAYS)} ON plan", "a plan is never changed")
    yield _refuse("plan_is_frozen", "UPDATE OF frozen ON plan WHEN OLD.frozen IS NOT NULL", "a plan freezes once")


def _refuse(name: str, when: str, why: str) -> str:
    return f"CREATE TRIGGER {name} BEFORE {when} BEGIN SELECT RAISE(ABORT, '{why}'); END"
