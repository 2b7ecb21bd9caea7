"""Can I cut? The answer, one thing to do, what is known; and what is due."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response

from trued.usecases.changes.record_event import list_events
from trued.usecases.messages.status_message import after_of, message_of, unchecked
from trued.usecases.runs.asked_with import asked_with
from trued.usecases.standing.do_next import DoNext, do_next
from trued.usecases.standing.shop_verdict import shop_verdict
from trued.usecases.standing.standing import Line, StandingView
from trued.web.page_context import page
from trued.web.pages.runs import recorded
from trued.web.saying import SHAPES, ago
from trued.words.message import CheckNext
from trued.words.status import status_badge, status_line


@dataclass(frozen=True, slots=True)
class Row:
    """One feature as its line on the page tells it."""

    feature: str
    name: str
    mark: str
    state: str
    value: str
    since: str


def show(request: Request, book: Path) -> Response:
    """The first page."""
    found = do_next(book)
    view = found.view
    events = {event.kind: event for event in list_events()}
    message, verdict = message_of(view), shop_verdict(view)
    if found.what == "cut":  # nothing that is to be done first stands before it
        message = replace(message, orders=())
    return page(
        "standing.html",
        shop=view.shop,
        verdict=verdict,
        told=message.lead.partition(". ")[2],
        message=message,
        rows=[row_of(line, view) for line in view.lines],
        later=after_of(view),
        cut=_next_cut(found),
        never=[unchecked(one) for one in view.never if not one.safety],
        questions=view.questions,
        recorded=recorded,
        run_at=run_at,
        noted=events.get(request.query_params.get("noted", "")),
        turned="turned" in request.query_params,
    )


def _next_cut(found: DoNext) -> tuple[str, str] | None:
    """Where the next cut of the open plan is, and what it is called, when that is the one thing to do."""
    if found.what != "cut" or found.plan is None or found.ticket is None:
        return None
    line = found.plan.line
    return f"/jobs/{line.id}/cut/{found.ticket.number}", f"{line.name}: cut {found.ticket.number}"


def row_of(line: Line, view: StandingView) -> Row:
    """One line of the list."""
    s = line.standing
    told, badge = status_line(s, view.shop.unit), status_badge(s)
    ran = f", {s.runs} {'run' if s.runs == 1 else 'runs'}" if s.runs else ""
    value = ", ".join(part for part in (told.value, told.limit) if part)
    state = told.sure.partition(". ")[0] if value else told.sure
    return Row(s.feature, told.name, SHAPES.get(badge, "◇"), state, value, f"{ago(view.now - s.since)}{ran}")


def run_at(run: CheckNext) -> str:
    """The address of the check that an order is, at the angle that it is for."""
    asked = urlencode(asked_with(run.feature)) if run.feature else ""
    return f"/checks/{run.check}{f'?{asked}' if asked else ''}"
