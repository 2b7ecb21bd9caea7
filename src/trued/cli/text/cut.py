"""One cut of a kept plan for a terminal: what is done first, the warnings, then the number."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from trued.cli.lines import wrapped
from trued.words.ticket import ticket_words

if TYPE_CHECKING:
    from trued.usecases.saved.saved_plan import KeptPlan
    from trued.usecases.saved.saved_ticket import KeptTicket


def cut_lines(plan: KeptPlan, ticket: KeptTicket) -> Iterator[str]:
    """The ticket on one screen; a cut that is closed has no number."""
    cut = ticket.cut
    yield f"{plan.line.name}: cut {ticket.number} of {len(plan.tickets)}{', done' if ticket.done else ''}"
    if ticket.mark is not None and not ticket.done:
        yield wrapped("Cut wrong." if ticket.wrong else f"Skipped: {ticket.skipped}.", "  ")
        yield f"Open it again: trued cut {cut.id} --undo"
        return
    if not plan.begun and (plan.begin is None or plan.begin.id == ticket.id):
        yield from (wrapped(f"WARNING  {text}", "  ") for text in plan.plan.cautions)
    elif not plan.begun:
        yield wrapped("WARNING  Read the warnings of the first cut: trued cut", "  ")
    if plan.since and not ticket.done:
        yield wrapped(f"LOOK  {plan.since}", "  ")
    if ticket.closed:
        yield wrapped(f"Do not make this cut. {ticket.closed}", "  ")
        return
    if ticket.after:
        yield wrapped(f"NOT YET  First: cut {', '.join(str(number) for number in ticket.after)}.", "  ")
    if not ticket.done:
        yield from (wrapped(f"FIRST  {text}", "  ") for text in ticket.hold)
    yield from (wrapped(f"WARNING  {text}", "  ") for text in cut.cautions)
    told = ticket_words(cut, ticket.said, plan.plan.unit)
    yield wrapped(told.setting)
    yield from (wrapped(text) for text in told.body)
    if ticket.may_be_done and not ticket.done:
        yield f"Done? trued cut {cut.id} --done"
