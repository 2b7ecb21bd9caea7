"""One cut a page: the cautions, then the number to set, as large as the page can hold."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.errors import InputRefused
from trued.usecases.saved.mark_ticket import CAN_BECOME, mark_ticket
from trued.usecases.saved.saved_plan import KeptPlan, kept_plan
from trued.usecases.saved.saved_ticket import KeptTicket
from trued.web.page_context import answers_of, key_of, new_key, page, see, site_of, text_of
from trued.words.ticket import MARKED, ticket_words

STATIONS = {"sled": "stop of the sled", "rip fence": "rip fence"}


def show(request: Request, book: Path) -> Response:
    """The page of one cut; nothing moves on by itself. A number behind a hold is not in the page before the answer."""
    plan = kept_plan(request.path_params["id"], book)
    ticket = _ticket(plan, request)
    held = ticket.mark is None and not ticket.closed
    answered = _answered(plan, ticket, request)
    general = tuple(text for text in (*plan.safety, *plan.plan.cautions) if text not in ticket.hold)
    first = general if held and not plan.begun and not ticket.after else ()
    return page(
        "cut.html",
        plan=plan,
        ticket=ticket,
        station=STATIONS.get(ticket.cut.station, ticket.cut.station),
        asked=tuple(text for text in ticket.hold if text not in answered) if held else (),
        first=() if _READ in answered else first,
        told=ticket_words(ticket.cut, ticket.said, plan.plan.unit, same=_same_before(plan, ticket)),
        key=new_key(),
    )


def send(request: Request, book: Path, form: FormData) -> Response:
    """What stands before the number is answered; or what became of the cut."""
    plan = kept_plan(request.path_params["id"], book)
    ticket, what = _ticket(plan, request), text_of(form, "what")
    here = f"/jobs/{plan.line.id}/cut/{ticket.number}"
    if what == "ready":
        answered = {*_answered(plan, ticket, request), *ticket.hold, _READ}
        site_of(request).keep(_place(plan), (_moment(plan, ticket), frozenset(answered)))
        return see(here)
    try:
        mark_ticket(
            plan.line.id,
            ticket.id,
            book,
            what=what if what in CAN_BECOME else "done",
            reason=text_of(form, "reason"),
            size=text_of(form, "size"),
            key=key_of(form),
            answers=answers_of(form),
        )
    except InputRefused as refused:
        return page("refused.html", 409, title="Not saved", faults=refused.faults, advice="")
    return see(here)


_READ = "the cautions of the whole plan"
"""Stands among the answers where they were read before the first cut."""


def _place(plan: KeptPlan) -> str:
    return f"hold {plan.line.id}"


def _moment(plan: KeptPlan, ticket: KeptTicket) -> tuple[str, str, str]:
    """An answer stands for one setting, on one day, as long as nothing happens to the shop."""
    return ticket.group, plan.since, f"{datetime.now().astimezone():%Y-%m-%d}"


def _answered(plan: KeptPlan, ticket: KeptTicket, request: Request) -> frozenset[str]:
    kept = site_of(request).answers.get(_place(plan))
    if isinstance(kept, tuple) and kept[0] == _moment(plan, ticket):
        answered: frozenset[str] = kept[1]
        return answered
    return frozenset()


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
