"""Something changed at the saw: which of the known events, and what it makes doubtful."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlencode

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.errors import Fault, InputRefused
from trued.usecases.changes.record_event import list_events, record_event, things_of
from trued.usecases.shop.shop_now import shop_now
from trued.usecases.views import Event
from trued.web.guard import device_of
from trued.web.page_context import answers_of, changing, key_of, new_key, page, see, text_of


def show_all(request: Request, book: Path) -> Response:
    """The list to pick from."""
    del request, book
    return page("changed.html", events=list_events())


def show(request: Request, book: Path) -> Response:
    """One event: what it means, and the button that keeps it."""
    return _drawn(_event(request.path_params["kind"]), book, new_key(), "", ())


def send(request: Request, book: Path, form: FormData) -> Response:
    """Keep it, and go back to what stands."""
    event, subject = _event(request.path_params["kind"]), text_of(form, "subject")
    if changing(form):
        return _drawn(event, book, key_of(form), subject, ())
    try:
        record_event(event.kind, subject, book, key=key_of(form), device=device_of(request), answers=answers_of(form))
    except InputRefused as refused:
        return _drawn(event, book, key_of(form), subject, refused.faults, 422)
    return see(f"/?{urlencode({'noted': event.kind})}")


def _event(kind: str) -> Event:
    for event in list_events():
        if event.kind == kind:
            return event
    raise InputRefused.of("event", kind, "There is no such event; pick one from the list.")


def _drawn(event: Event, book: Path, key: str, subject: str, faults: tuple[Fault, ...], status: int = 200) -> Response:
    return page("event.html", status, event=event, things=_things(event, book), subject=subject, key=key, faults=faults)


def _things(event: Event, book: Path) -> tuple[str, ...]:
    """What it may have happened to, where the shop has more than one of the kind."""
    things = things_of(event, shop_now(book).shop)
    return things if len(things) > 1 else ()
