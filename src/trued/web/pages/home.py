"""Can I cut? What can be trusted, what is in doubt and why, what to do next."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response

from trued.usecases.changes.adjustments import amount_shown, amount_to_type
from trued.usecases.changes.record_event import list_events
from trued.usecases.runs.asked_with import asked_with
from trued.usecases.showing import chance_said, standing_said, within_said
from trued.usecases.standing.shop_verdict import shop_verdict, trusted
from trued.usecases.standing.standing import Line, StandingView, what_stands
from trued.usecases.words import verdict_said
from trued.web.page_context import page

MARKS = {"proven-in": "■", "proven-out": "▲", "not-proven": "◇", None: "·"}
"""A shape for each decision, beside its words."""


@dataclass(frozen=True, slots=True)
class Todo:
    """One thing to do, why, how long it takes, where its page is. order, amount: of a move, to be written huge.
    then: what else is done by hand before the check is run."""

    text: str
    why: str
    name: str
    minutes: float
    href: str
    button: str
    order: str = ""
    amount: str = ""
    then: tuple[Todo, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """One feature as its line on the page tells it."""

    feature: str
    name: str
    mark: str
    state: str
    value: str
    tolerance: str
    chance: str
    since: str
    stale: tuple[str, ...]
    advice: str


def show(request: Request, book: Path) -> Response:
    """The first page."""
    view = what_stands(book)
    events = {event.kind: event for event in list_events()}
    return page(
        "standing.html",
        shop=view.shop,
        verdict=shop_verdict(view),
        dangers=tuple(dict.fromkeys(text for line in view.lines for text in line.standing.dangers)),
        todo=[todo_of(line) for line in view.do_first],
        trusted=[row_of(line, view) for line in view.lines if trusted(line)],
        doubted=[row_of(line, view) for line in view.lines if not trusted(line) and _judged(line)],
        known=[row_of(line, view) for line in view.lines if not trusted(line) and not _judged(line)],
        unsafe=[check for check in view.never if check.safety],
        never=[check for check in view.never if not check.safety],
        unread=view.unread,
        questions=view.questions,
        noted=events.get(request.query_params.get("noted", "")),
        turned="turned" in request.query_params,
    )


def row_of(line: Line, view: StandingView) -> Row:
    """One line of the lists."""
    s, unit = line.standing, view.shop.unit
    ran = f", {s.runs} {'run' if s.runs == 1 else 'runs'}" if s.runs else ""
    found = f"found {ago(view.now - s.since)}{ran}"
    return Row(
        feature=s.feature,
        name=line.name,
        mark=MARKS[s.decision] if not s.stale else "◇",
        state="in doubt" if s.stale else verdict_said(s.decision, s.feature, s.side, s.limits),
        value=standing_said(s, unit),
        tolerance=within_said(s.limits, s.unit, unit) if s.limits is not None else "",
        chance=chance_said(s.chance_in, s.scatter_source) if s.chance_in is not None and not s.stale else "",
        since=found if s.runs or not s.believed else f"turned since it was found {ago(view.now - s.since)}",
        stale=s.stale,
        advice=f"{s.next.text} {s.next.why}"
        if s.next is not None and s.next.do == "leave" and not trusted(line)
        else "",
    )


def todo_of(line: Line) -> Todo:
    """What comes next for one check, and what goes with it."""
    return replace(_todo(line), then=tuple(_todo(other) for other in line.then))


def _todo(line: Line) -> Todo:
    step, s = line.standing.next, line.standing
    if step is None:
        return Todo(line.name, "", line.name, line.minutes, "/checks", "See the checks")
    if step.do == "move" and step.direction:
        typed = amount_to_type(s)
        href = f"/moved?{urlencode({'feature': s.feature, 'direction': step.direction, 'amount': typed})}"
        order, amount = (step.order.upper(), amount_shown(s)) if step.order else ("", "")
        return Todo(step.text, step.why, line.name, line.minutes, href, "I turned it", order, amount)
    asked = urlencode(asked_with(s.feature))
    href = f"/checks/{step.check}{f'?{asked}' if asked else ''}" if step.check else "/checks"
    return Todo(step.text, step.why, line.name, line.minutes, href, "Open this check")


def ago(time: timedelta) -> str:
    """`today`, `yesterday`, `12 days ago`, `5 months ago`."""
    days = max(0, time.days)
    if days == 0:
        hours = time.seconds // 3600
        return "just now" if time.seconds < 600 or time.days < 0 else f"{hours} h ago" if hours else "within the hour"
    if days == 1:
        return "yesterday"
    return f"{days} days ago" if days < 60 else f"{days // 30} months ago"


def clock(at: datetime) -> str:
    """A time on this computer's own clock."""
    local = at.astimezone()
    return f"{local.day} {local:%B %Y, %H:%M}"


def _judged(line: Line) -> bool:
    return line.standing.decision is not None or bool(line.standing.stale)
