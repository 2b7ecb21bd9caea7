"""Note that a cut of a kept plan is done, or that it was not after all."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from trued.errors import InputRefused
from trued.store.ids import new_id
from trued.store.rows import MarkRow
from trued.usecases.kept_plan import found_plan
from trued.usecases.plan_formats import OtherFormat, read_plan
from trued.usecases.shop_now import opened


def mark_ticket(plan: str, ticket: str, book: Path, *, done: bool, at: datetime | None = None) -> bool:
    """Whether it changed anything; marking twice is marking once. The first cut done says that cutting has begun."""
    now = at or datetime.now(UTC)
    with opened(book) as kept:
        made = read_plan(found_plan(kept, plan).json)
        if isinstance(made, OtherFormat):
            raise InputRefused.of("plan", plan[:8], made.said)
        if ticket not in {one.id for one in made.order}:
            raise InputRefused.of("ticket", ticket, "This plan has no such cut.")
        if (ticket in kept.done(plan)) is done:
            return False
        if done:
            kept.freeze_plan(plan, now)
        kept.add_marks([MarkRow(new_id(), plan, ticket, "done" if done else "undone", now)])
        return True
