"""The site: which address leads to which page."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.routing import Route

from trued.errors import BookRefused, InputRefused
from trued.web import assets, refusals
from trued.web.apart import here
from trued.web.guard import Guard
from trued.web.page_context import Site, get, post
from trued.web.pages import (
    answered,
    checks,
    cuts,
    due,
    events,
    history,
    home,
    jobs,
    moves,
    part_check,
    phones,
    runs,
    shop,
    undo,
)

ROUTES = (
    Route("/", get(home.show)),
    Route("/due", get(due.show)),
    Route("/standing/{feature}", get(history.show)),
    Route("/standing/{feature}/sheet.pdf", get(history.sheet)),
    Route("/checks", get(checks.show_all)),
    Route("/checks/{id}", get(checks.show)),
    Route("/checks/{id}", post(checks.send), methods=["POST"]),
    Route("/runs/{id}", get(runs.show)),
    Route("/changed", get(events.show_all)),
    Route("/changed/{kind}", get(events.show)),
    Route("/changed/{kind}", post(events.send), methods=["POST"]),
    Route("/moved", get(moves.show)),
    Route("/moved", post(moves.send), methods=["POST"]),
    Route("/answer/{id}", post(answered.send), methods=["POST"]),
    Route("/withdraw", get(undo.show_all)),
    Route("/withdraw/{id}", get(undo.show)),
    Route("/withdraw/{id}", post(undo.send), methods=["POST"]),
    Route("/jobs", get(jobs.show_all)),
    Route("/jobs", post(jobs.send, long=True), methods=["POST"]),
    Route("/jobs/{id}", get(jobs.show)),
    Route("/jobs/{id}/sheets.pdf", get(jobs.sheets)),
    Route("/jobs/{id}/cut/{number:int}", get(cuts.show)),
    Route("/jobs/{id}/cut/{number:int}", post(cuts.send), methods=["POST"]),
    Route("/jobs/{id}/measured", get(part_check.show)),
    Route("/jobs/{id}/measured", post(part_check.send), methods=["POST"]),
    Route("/jobs/{id}/measured/{key}", get(part_check.result)),
    Route("/shop", get(shop.show)),
    Route("/shop/{question}", get(shop.ask)),
    Route("/shop/{question}", post(shop.answer), methods=["POST"]),
    Route("/phones", get(phones.show)),
    Route("/phones/door", post(phones.open_door), methods=["POST"]),
    Route("/phones/shut", post(phones.shut_door), methods=["POST"]),
    Route("/phones/code", post(phones.new_code), methods=["POST"]),
    Route("/phones/{id}", get(phones.show_one)),
    Route("/phones/{id}", post(phones.remove_one), methods=["POST"]),
    Route("/pair", get(phones.show_pair)),
    Route("/pair", post(phones.send_pair), methods=["POST"]),
    Route("/style.css", assets.style),
    Route("/trued.js", assets.script),
)


def app(book: Path, apart: Callable[..., Any] = here) -> Starlette:
    """The site of one book, which must be there already; `apart` runs what takes long."""
    state = Site(book, apart=apart)
    site = Starlette(
        routes=list(ROUTES),
        middleware=[Middleware(Guard, site=state), Middleware(GZipMiddleware, minimum_size=1000, compresslevel=5)],
        exception_handlers={
            InputRefused: refusals.refused,
            BookRefused: refusals.book_refused,
            HTTPException: refusals.no_page,
            Exception: refusals.our_fault,
        },
    )
    site.state.site = state
    return site
