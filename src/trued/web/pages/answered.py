"""An answer to what is asked about a row of the book."""

from __future__ import annotations

from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.usecases.changes.answer import answer
from trued.web.guard import device_of
from trued.web.page_context import see, text_of


def send(request: Request, book: Path, form: FormData) -> Response:
    """Keep it, and go back to what stands; `back` is the page that asked, one of this site."""
    answer(request.path_params["id"], text_of(form, "answer"), book, device=device_of(request))
    back = text_of(form, "back")
    return see(back if back.startswith("/runs/") and "//" not in back else "/")
