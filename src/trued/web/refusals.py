"""What a person sees when something cannot be shown or kept: sentences, never a trace."""

from __future__ import annotations

import logging
from dataclasses import replace

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from trued.errors import NOTHING_KEPT, BookRefused, Fault, InputRefused, kept_all_the_same
from trued.web.guard import HEADERS
from trued.web.page_context import page

_LOG = logging.getLogger("trued.web")


def refused(request: Request, error: Exception) -> Response:
    """A thing that is not there, or an input that has no field to stand beside."""
    del request
    faults = error.faults if isinstance(error, InputRefused) else ()
    return page("refused.html", 404, title="This is not here", faults=faults, advice="")


def book_refused(request: Request, error: Exception) -> Response:
    """The book cannot be read or written; nothing was changed."""
    faults = error.faults if isinstance(error, BookRefused) else ()
    advice = "Nothing was kept. What you typed is still in the page before this one: go back, mend this, send it again."
    if kept := _kept(request):
        faults = tuple(replace(fault, text=NOTHING_KEPT.sub("", fault.text)) for fault in faults)
        advice = kept_all_the_same(kept)
    return page("refused.html", 503, title="The book cannot be used", faults=faults, advice=advice)


def no_page(request: Request, error: Exception) -> Response:
    """An address that leads nowhere, or a form sent where none is taken."""
    status = error.status_code if isinstance(error, HTTPException) else 404
    if status == 404:
        fault = Fault("", "", f"There is no page {request.url.path}.")
    elif status == 405:
        fault = Fault("", "", "Nothing can be sent to this page.")
    else:
        fault = Fault("", "", "The form that was sent cannot be read; nothing was kept.")
    return page("refused.html", status, title="This is not here", faults=(fault,), advice="")


def our_fault(request: Request, error: Exception) -> Response:
    """The last resort; the trace goes to the log of the program."""
    _LOG.error("a page failed: %s %s", request.method, request.url.path, exc_info=error)
    text = "This is a fault of trued, not of yours. The details stand where trued open runs."
    advice = kept_all_the_same(kept) if (kept := _kept(request)) else ""
    answer = page("refused.html", 500, title="Something went wrong", faults=(Fault("", "", text),), advice=advice)
    answer.headers.update(HEADERS)  # this answer does not pass the guard on its way out
    return answer


def _kept(request: Request) -> list[str]:
    """What was kept before it failed."""
    kept: list[str] = getattr(request.state, "kept", [])
    return kept
