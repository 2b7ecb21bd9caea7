"""One cut a page: the cautions, then the number to set, as large as the page can hold."""

from __future__ import annotations

from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.errors import InputRefused
from trued.usecases.kept_plan import KeptPlan, kept_plan
from trued.usecases.kept_ticket import KeptTicket
from trued.usecases.mark_ticket import mark_ticket
from trued.web.site import page, see, text_of

STATIONS = {"sled": "stop of the sled", "rip fence": "rip fence"}
MARKED = ("guided saw", "hand saw")
"""Where a line is drawn, and nothing is set."""


def show(request: Request, book: Path) -> Response:
    """The page of one cut; nothing moves on by itself."""
    plan = kept_plan(request.path_params["id"], book)
    ticket = _ticket(plan, request)
    open_before = [one for one in plan.tickets if one.id in ticket.cut.after and not one.done]
    return page(
        "cut.html",
        plan=plan,
        ticket=ticket,
        station=STATIONS.get(ticket.cut.station, ticket.cut.station),
        marked=ticket.cut.station in MARKED,
        waits=open_before,
        same=_same_before(plan, ticket),
    )


def send(request: Request, book: Path, form: FormData) -> Response:
    """Done, or not done after all; the page stays where it is."""
    plan = kept_plan(request.path_params["id"], book)
    ticket = _ticket(plan, request)
    mark_ticket(plan.line.id, ticket.id, book, done=text_of(form, "what") != "undone")
    return see(f"/jobs/{plan.line.id}/cut/{ticket.number}")


def _ticket(plan: KeptPlan, request: Request) -> KeptTicket:
    number = request.path_params["number"]
    found = next((ticket for ticket in plan.tickets if ticket.number == number), None)
    if found is None:
        raise InputRefused.of("cut", str(number), f"This plan has no cut {number}; it has {len(plan.tickets)}.")
    return found


def _same_before(plan: KeptPlan, ticket: KeptTicket) -> bool:
    """Whether the cut before at this station had the very same number, so that nothing is touched now."""
    if ticket.cut.station in MARKED:
        return False
    before = [one for one in plan.tickets[: ticket.number - 1] if one.cut.station == ticket.cut.station]
    return bool(ticket.said and before) and before[-1].said == ticket.said
