"""`trued cut [TICKET]`: one cut of the open plan, and that it is done."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from trued.cli.result import Answer, Json, common
from trued.cli.text.cut import cut_lines
from trued.errors import InputRefused
from trued.usecases.files.folders import needed_book
from trued.usecases.saved.mark_ticket import mark_ticket
from trued.usecases.standing.do_next import open_plan

if TYPE_CHECKING:
    from trued.usecases.saved.saved_plan import KeptPlan
    from trued.usecases.saved.saved_ticket import KeptTicket


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The cut, and what became of it."""
    del words
    parser.add_argument("ticket", nargs="?", metavar="TICKET", help="as T4, or its number; else the next one open")
    parser.add_argument("--plan", metavar="ID", default="", help="another plan than the latest that is open")
    marked = parser.add_mutually_exclusive_group()
    marked.add_argument("--done", action="store_true", help="it is cut")
    marked.add_argument("--undone", action="store_true", help="it was not cut after all")
    common(parser, asks=True)


def run(args: argparse.Namespace) -> Answer:
    """Show the cut; with --done or --undone note it, and show the next."""
    book = needed_book(args.book)
    plan = open_plan(book, args.plan)
    if plan is None:
        where = "This book has no such plan." if args.plan else "No plan of this book has a cut left."
        raise InputRefused.of("--plan", args.plan, f"{where} trued plan JOB.toml makes one.")
    ticket = _ticket(plan, args.ticket)
    if ticket is None:
        return Answer(_json(plan, None, changed=False), _left(plan))
    if not (args.done or args.undone):
        return Answer(_json(plan, ticket, changed=False), "\n".join(cut_lines(plan, ticket)))
    if args.ticket is None:
        raise InputRefused.of("TICKET", "", f"Name the cut that is done, as {ticket.id}.")
    changed = mark_ticket(plan.line.id, ticket.id, book, done=args.done, answers=args.answer)
    now = open_plan(book, plan.line.id) or plan
    said = f"Noted: cut {ticket.number} is {'done' if args.done else 'not done'}." if changed else "It was so already."
    follows = "\n".join(cut_lines(now, now.begin)) if now.begin is not None else _left(now)
    return Answer(_json(now, now.begin, changed=changed), f"{said}\n\n{follows}")


def _ticket(plan: KeptPlan, typed: str | None) -> KeptTicket | None:
    if typed is None:
        return plan.begin
    wanted = typed.upper() if typed.upper().startswith("T") else f"T{typed}"
    found = next((one for one in plan.tickets if one.id == wanted), None)
    if found is None:
        raise InputRefused.of("TICKET", typed, f"The plan has T1 to T{len(plan.tickets)}.")
    return found


def _left(plan: KeptPlan) -> str:
    closed = sum(not one.done for one in plan.tickets)
    if not closed:
        return f"{plan.line.name}: every cut is done. Now measure the parts: trued parts"
    return f"{plan.line.name}: {closed} cuts are left, and none can be made as things are. {' '.join(plan.closed)}"


def _json(plan: KeptPlan, ticket: KeptTicket | None, *, changed: bool) -> Json:
    held = ticket is not None and not ticket.closed
    return {
        "plan": plan.line.id,
        "ticket": ticket.id if ticket is not None else None,
        "number": ticket.said if held and ticket is not None else None,
        "hold": list(ticket.hold) if ticket is not None else [],
        "closed": ticket.closed if ticket is not None else "",
        "after": [f"T{number}" for number in ticket.after] if ticket is not None else [],
        "left": sum(not one.done for one in plan.tickets),
        "changed": changed,
    }
