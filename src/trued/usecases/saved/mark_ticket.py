"""Note what became of a cut of a kept plan: done, skipped for a reason, cut wrong, or open again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path

from trued.errors import InputRefused, Question
from trued.plan.document import PlanDocument
from trued.store.rows import MarkRow
from trued.store.rows.job import MARKS
from trued.units import read_length
from trued.usecases.plan.formats import OtherFormat, read_plan
from trued.usecases.questions.asking import settle
from trued.usecases.questions.once import INSTEAD, Sent, place_of
from trued.usecases.saved.closed_since import Closing, closed_since
from trued.usecases.saved.saved_plan import found_plan
from trued.usecases.saved.saved_ticket import tickets_of
from trued.usecases.shop.shop_now import opened

CAN_BECOME = MARKS
"""What can become of a cut."""
SKIPPED_AGAIN = "skipped-again"
"""The question whether another reason takes the place of the one that was given before."""

_LONGEST = 200


def mark_ticket(
    plan: str,
    ticket: str,
    book: Path,
    *,
    what: str,
    reason: str = "",
    size: str = "",
    at: datetime | None = None,
    key: str | None = None,
    answers: Sequence[str] = (),
) -> bool:
    """Whether it changed anything; marking twice is marking once. The first cut made says that cutting has begun.

    what:   `done`, `skipped` (with its `reason`), `wrong` (with the `size` that it measures, as typed, where that is
            known), or `undone`: open again.
    `key` is the mark's id when the writer has made one: the same key twice is one mark, also after another one has come
    between; what differs under it is asked about (`answers`), and so is a second reason to skip the same cut.
    """
    now = at or datetime.now(UTC)
    with opened(book) as kept:
        made = read_plan(found_plan(kept, plan).json)
        if isinstance(made, OtherFormat):
            raise InputRefused.of("plan", plan[:8], made.said)
        if all(one.id != ticket for one in made.order):
            raise InputRefused.of("ticket", ticket, "This plan has no such cut.")
        sent = (plan, ticket, what, _reason(reason) if what == "skipped" else None, _size_mm(size, made, what))
        place = place_of(
            key,
            repr(sent),
            lambda id: None if (mark := kept.mark(id)) is None else Sent(mark, mark),
            lambda mark: _sent(mark) == sent,
            _text,
            replaces=lambda _: False,
        )
        if place.there is not None:
            return False
        settle(place.questions, answers)
        marks = {mark.ticket: mark for mark in kept.marks(plan)}
        before = marks.get(ticket)
        if (before is None and what == "undone") or (before is not None and _sent(before) == sent):
            return False
        _may_be(sent, before, answers)
        if what == "done":
            done = [mark.ticket for mark in marks.values() if mark.what == "done"]
            _may_be_done(made, ticket, marks, closed_since(made, book, done, now))
        if what in ("done", "wrong"):
            kept.freeze_plan(plan, now)
        kept.add_marks([MarkRow(place.id, plan, ticket, what, now, reason=sent[3], size_mm=sent[4])])
        return True


_Content = tuple[str, str, str, str | None, float | None]


def _sent(mark: MarkRow) -> _Content:
    return mark.plan, mark.ticket, mark.what, mark.reason, mark.size_mm


def _text(mark: MarkRow) -> str:
    return f"cut {mark.ticket} {mark.what}{f', {mark.reason}' if mark.reason else ''}"


def _reason(typed: str) -> str:
    reason = " ".join(typed.split())
    if not reason or len(reason) > _LONGEST:
        raise InputRefused.of("reason", reason, f"Say why in a few words (at most {_LONGEST} characters).")
    return reason


def _size_mm(typed: str, plan: PlanDocument, what: str) -> float | None:
    if what != "wrong" or not typed.strip():
        return None
    size = read_length(typed, plan.unit, where="size")
    if size.mm <= 0:
        raise InputRefused.of("size", typed, "A cut that measures nothing: type what the piece measures.")
    return size.mm


def _may_be(sent: _Content, before: MarkRow | None, answers: Sequence[str]) -> None:
    """InputRefused or Asks where what was noted before stands against it."""
    _, ticket, what, reason, _ = sent
    if before is None or what in ("undone", "wrong"):
        return
    number = ticket.removeprefix("T")
    if before.what == "wrong":
        raise InputRefused.of("cut", number, "It was cut wrong. Undo that first.")
    if what == "skipped" and before.what == "done":
        raise InputRefused.of("cut", number, "It is cut. Undo that first.")
    if what == "skipped":
        text = f"Cut {number} is skipped already: {before.reason}. Is it now: {reason}?"
        settle((Question(SKIPPED_AGAIN, "", text, ((INSTEAD, "Yes, keep the new reason"),)),), answers)


def _may_be_done(plan: PlanDocument, ticket: str, marks: Mapping[str, MarkRow], closing: Closing) -> None:
    """InputRefused where the cut is closed, or cuts that come before it are open."""
    found = next(one for one in tickets_of(plan, marks, closing) if one.id == ticket)
    if found.closed:
        raise InputRefused.of("cut", str(found.number), f"This cut is not made as things are. {found.closed}")
    if found.after:
        first = ", ".join(f"cut {number}" for number in found.after)
        raise InputRefused.of("cut", str(found.number), f"First: {first}.")
