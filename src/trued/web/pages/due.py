"""What is to be looked at again, by date, on one screen."""

from __future__ import annotations

from pathlib import Path

from starlette.requests import Request
from starlette.responses import Response

from trued.usecases.standing.do_next import Due, due
from trued.web.page_context import page
from trued.web.pages.home import run_at
from trued.words.message import CheckNext

MOST = 12


def show(request: Request, book: Path) -> Response:
    """What is in doubt first, then the earliest date."""
    del request
    _, found = due(book)
    return page("due.html", rows=[_row(one) for one in found[:MOST]], more=max(0, len(found) - MOST))


def _row(one: Due) -> tuple[str, str, str, str]:
    """Its name, when, why, and where its check is."""
    date = one.date.astimezone() if one.date is not None else None
    when = f"by {date:%b} {date.day}, {date.year}" if date is not None else "now"
    uses = f", or after {one.uses} sessions" if one.uses is not None else ""
    step = one.line.standing.next
    check = step.check if step is not None else ""
    feature = one.line.standing.feature
    href = run_at(CheckNext(check, "", 0.0, feature=feature)) if check else f"/standing/{feature}"
    return one.line.name, f"{when}{uses}", one.doubt, href
