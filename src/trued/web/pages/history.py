"""What has become of one feature: drawn, in sentences, and every finding, move and event of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from starlette.requests import Request
from starlette.responses import Response

from trued.usecases.messages.status_message import order_of
from trued.usecases.showing import reading_said
from trued.usecases.standing.feature_history import FeatureHistory, HistoryLine, feature_history
from trued.usecases.views import FeatureStatus
from trued.web.page_context import page
from trued.web.pages.home import run_at
from trued.web.pages.runs import recorded
from trued.web.saying import SHAPES, clock
from trued.words.message import Message
from trued.words.status import status_badge, status_line

SHOWN = 60
"""Rows of one page: as many as the drawing shows. The older ones have pages of their own."""

_WORDS = {"finding": "Found", "move": "Turned", "event": "Happened"}


@dataclass(frozen=True, slots=True)
class Row:
    """One finding, move or event. run: the address of its own page, "" where it has none; back: of taking it back."""

    when: str
    word: str
    text: str
    readings: tuple[str, ...]
    aside: str
    run: str
    back: str


@dataclass(frozen=True, slots=True)
class Stands:
    """What is believed now, in words; `mark` and `state` as on the standing page."""

    mark: str
    state: str
    value: str
    stale: tuple[str, ...]
    aside: tuple[str, ...]
    next: str
    why: str
    again: str
    events: tuple[str, ...]


def show(request: Request, book: Path) -> Response:
    """The page of one feature."""
    history = feature_history(request.path_params["feature"], book)
    rows, part = tuple(reversed(history.lines)), _part(request.query_params.get("part", ""))
    begin = min(part, max(0, -(-len(rows) // SHOWN) - 1)) * SHOWN
    return page(
        "history.html",
        history=history,
        stands=stands_of(history),
        next=_next(history),
        recorded=recorded,
        run_at=run_at,
        rows=[_row(line) for line in rows[begin : begin + SHOWN]],
        all=len(rows),
        begin=begin,
        shown=SHOWN,
    )


def _next(history: FeatureHistory) -> Message | None:
    """What comes next for it, as the first page would say it."""
    status = history.standing
    if status is None or status.next is None or status.next.do == "leave":
        return None
    order = order_of(status, history.minutes)
    return Message(history.name, None, orders=(order,)) if order is not None else None


def sheet(request: Request, book: Path) -> Response:
    """The same to be printed."""
    from trued.usecases.standing.history_sheet import (  # the printing is loaded when it is asked for
        file_name,
        history_pdf,
    )

    history = feature_history(request.path_params["feature"], book)
    name = f'attachment; filename="{file_name(history)}.pdf"'
    return Response(history_pdf(history), media_type="application/pdf", headers={"Content-Disposition": name})


def _part(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 8 else 0


def stands_of(history: FeatureHistory) -> Stands | None:
    """None while it was never found."""
    s = history.standing
    if s is None:
        return None
    told, badge = status_line(s, history.unit), status_badge(s)
    return Stands(
        mark=SHAPES.get(badge, "◇"),
        state=told.sure,
        value=", ".join(part for part in (told.value, told.limit) if part),
        stale=s.stale,
        aside=s.set_aside,
        next=s.next.text if s.next is not None else "",
        why=s.next.why if s.next is not None else "",
        again=_again(s),
        events=s.look_again.events if s.look_again is not None else (),
    )


def _again(s: FeatureStatus) -> str:
    """When by use and date; "" while nothing is to be awaited."""
    again = s.look_again
    if again is None:
        return ""
    if again.uses is None or again.date is None:
        return "Recheck after an event that touches it."
    return f"Recheck after {again.uses} sessions or by {again.date:%b} {again.date.day}, {again.date.year}."


def _row(line: HistoryLine) -> Row:
    return Row(
        when=clock(line.at),
        word="Set aside" if line.aside else _WORDS[line.kind],
        text=line.text[:1].upper() + line.text[1:] if line.kind != "finding" else line.text,
        readings=_readings(line.typed) if line.kind == "finding" else (),
        aside=line.aside,
        run=f"/runs/{line.id}" if line.kind == "finding" else "",
        back=f"/withdraw/{line.id}",
    )


def _readings(typed: Sequence[str]) -> tuple[str, ...]:
    return tuple(reading_said(text) for text in typed)
