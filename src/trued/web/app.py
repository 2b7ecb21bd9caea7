"""The site: which address leads to which page."""

from __future__ import annotations

from pathlib import Path

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.routing import Route

from trued.errors import BookRefused, InputRefused
from trued.web import (
    answered,
    assets,
    changed,
    checks,
    cuts,
    history,
    jobs,
    measured,
    moved,
    refusals,
    runs,
    standing,
    withdraw,
)
from trued.web.guard import Guard
from trued.web.site import Site, get, post

ROUTES = (
    Route("/", get(standing.show)),
    Route("/standing/{feature}", get(history.show)),
    Route("/standing/{feature}/sheet.pdf", get(history.sheet)),
    Route("/checks", get(checks.show_all)),
    Route("/checks/{id}", get(checks.show)),
    Route("/checks/{id}", post(checks.send), methods=["POST"]),
    Route("/runs/{id}", get(runs.show)),
    Route("/changed", get(changed.show_all)),
    Route("/changed/{kind}", get(changed.show)),
    Route("/changed/{kind}", post(changed.send), methods=["POST"]),
    Route("/moved", get(moved.show)),
    Route("/moved", post(moved.send), methods=["POST"]),
    Route("/answer/{id}", post(answered.send), methods=["POST"]),
    Route("/withdraw", get(withdraw.show_all)),
    Route("/withdraw/{id}", get(withdraw.show)),
    Route("/withdraw/{id}", post(withdraw.send), methods=["POST"]),
    Route("/jobs", get(jobs.show_all)),
    Route("/jobs", post(jobs.send), methods=["POST"]),
    Route("/jobs/{id}", get(jobs.show)),
    Route("/jobs/{id}/sheets.pdf", get(jobs.sheets)),
    Route("/jobs/{id}/cut/{number:int}", get(cuts.show)),
    Route("/jobs/{id}/cut/{number:int}", post(cuts.send), methods=["POST"]),
    Route("/jobs/{id}/measured", get(measured.show)),
    Route("/jobs/{id}/measured", post(measured.send), methods=["POST"]),
    Route("/jobs/{id}/measured/{key}", get(measured.result)),
    Route("/style.css", assets.style),
    Route("/trued.js", assets.script),
)


def app(book: Path) -> Starlette:
    """The site of one book, which must be there already."""
    site = Starlette(
        routes=list(ROUTES),
        middleware=[Middleware(Guard)],
        exception_handlers={
            InputRefused: refusals.refused,
            BookRefused: refusals.book_refused,
            HTTPException: refusals.no_page,
            Exception: refusals.our_fault,
        },
    )
    site.state.site = Site(book)
    return site
