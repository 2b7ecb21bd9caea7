"""`trued cut [TICKET]`: one cut of the open plan, and what became of it."""

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
    marked.add_argument("--skip", metavar="REASON", help="leave it out for now; later cuts of its piece wait")
    marked.add_argument("--wrong", metavar="SIZE", nargs="?", const="", help="it is cut wrong, and measures SIZE")
    marked.add_argument("--undo", "--undone", dest="undo", action="store_true", help="it is open again")
    common(parser, asks=True)


def run(args: argparse.Namespace) -> Answer:
    """Show the cut; with --done, --skip, --wrong or --undo note that, and show the next."""
    book = needed_book(args.book)
    plan = open_plan(book, args.plan)
    if plan is None:
        where = "This book has no such plan." if args.plan else "No plan of this book has a cut left."
        raise InputRefused.of("--plan", args.plan, f"{where} trued plan JOB.toml makes one.")
    ticket = _ticket(plan, args.ticket)
    if ticket is None:
        return Answer(_json(plan, None, changed=False), _left(plan))
    what = _what(args)
    if not what:
        return Answer(_json(plan, ticket, changed=False), "\n".join(cut_lines(plan, ticket)))
    if args.ticket is None:
        raise InputRefused.of("TICKET", "", f"Name the cut, as {ticket.id}.")
    changed = mark_ticket(
        plan.line.id, ticket.id, book, what=what, reason=args.skip or "", size=args.wrong or "", answers=args.answer
    )
    now = open_plan(book, plan.line.id) or plan
    said = f"Recorded: cut {ticket.number} is {_SAID[what]}." if changed else "It was so already."
    if what == "wrong":
        said += " Later cuts of its piece wait. Plan the job again to replace it."
    follows = "\n".join(cut_lines(now, now.begin)) if now.begin is not None else _left(now)
    return Answer(_json(now, now.begin, changed=changed), f"{said}\n\n{follows}")


_SAID = {"done": "done", "skipped": "skipped", "wrong": "cut wrong", "undone": "open again"}


def _what(args: argparse.Namespace) -> str:
    """What is to be noted; "" where the cut is only shown."""
    told = {"done": args.done, "skipped": args.skip is not None, "wrong": args.wrong is not None, "undone": args.undo}
    return next((what for what, given in told.items() if given), "")


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
    skipped = [f"Cut {one.number} was skipped: {one.skipped}." for one in plan.skipped]
    why = " ".join((*plan.closed, *skipped))
    return f"{plan.line.name}: {closed} cuts are left, and none can be made as things are. {why}"


def _json(plan: KeptPlan, ticket: KeptTicket | None, *, changed: bool) -> Json:
    held = ticket is not None and not ticket.closed
    return {
        "plan": plan.line.id,
        "ticket": ticket.id if ticket is not None else None,
        "number": ticket.said if held and ticket is not None else None,
        "hold": list(ticket.hold) if ticket is not None else [],
        "closed": ticket.closed if ticket is not None else "",
        "after": [f"T{number}" for number in ticket.after] if ticket is not None else [],
        "mark": ticket.mark.what if ticket is not None and ticket.mark is not None else None,
        "reason": (ticket.skipped or None) if ticket is not None else None,
        "skipped": [one.id for one in plan.skipped],
        "left": sum(not one.done for one in plan.tickets),
        "changed": changed,
    }
