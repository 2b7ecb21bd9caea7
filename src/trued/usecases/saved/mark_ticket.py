"""Note that a cut of a kept plan is done, or that it was not after all."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import UTC, datetime
from pathlib import Path

from trued.errors import InputRefused
from trued.plan.document import PlanDocument
from trued.store.rows import MarkRow
from trued.usecases.plan.formats import OtherFormat, read_plan
from trued.usecases.questions.asking import settle
from trued.usecases.questions.once import Sent, place_of
from trued.usecases.saved.closed_since import Closing, closed_since
from trued.usecases.saved.saved_plan import found_plan
from trued.usecases.saved.saved_ticket import tickets_of
from trued.usecases.shop.shop_now import opened


def mark_ticket(
    plan: str,
    ticket: str,
    book: Path,
    *,
    done: bool,
    at: datetime | None = None,
    key: str | None = None,
    answers: Sequence[str] = (),
) -> bool:
    """Whether it changed anything; marking twice is marking once. The first cut done says that cutting has begun.

    `key` is the mark's id when the writer has made one: the same key twice is one mark, also after another one has come
    between; what differs under it is asked about (`answers`).
    """
    now = at or datetime.now(UTC)
    with opened(book) as kept:
        made = read_plan(found_plan(kept, plan).json)
        if isinstance(made, OtherFormat):
            raise InputRefused.of("plan", plan[:8], made.said)
        marked = kept.done(plan)
        cut = next((one for one in made.order if one.id == ticket), None)
        if cut is None:
            raise InputRefused.of("ticket", ticket, "This plan has no such cut.")
        sent = (plan, ticket, "done" if done else "undone")
        place = place_of(
            key,
            repr(sent),
            lambda id: None if (mark := kept.mark(id)) is None else Sent(mark, mark),
            lambda mark: (mark.plan, mark.ticket, mark.what) == sent,
            lambda mark: f"cut {mark.ticket} {mark.what}",
            replaces=lambda _: False,
        )
        if place.there is not None:
            return False
        settle(place.questions, answers)
        if (ticket in marked) is done:
            return False
        if done:
            _may_be_done(made, ticket, marked, closed_since(made, book, marked, now))
        if done:
            kept.freeze_plan(plan, now)
        kept.add_marks([MarkRow(place.id, *sent, now)])
        return True


def _may_be_done(plan: PlanDocument, ticket: str, done: Collection[str], closing: Closing) -> None:
    """InputRefused where the cut is closed, or cuts that come before it are open."""
    found = next(one for one in tickets_of(plan, done, closing) if one.id == ticket)
    if found.closed:
        raise InputRefused.of("cut", str(found.number), f"This cut is not made as things are. {found.closed}")
    if found.after:
        first = ", ".join(f"cut {number}" for number in found.after)
        raise InputRefused.of("cut", str(found.number), f"First: {first}.")
