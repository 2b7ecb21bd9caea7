"""The style sheet and the one script: our own, served from here, nothing from outside."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from starlette.requests import Request
from starlette.responses import Response

from trued.render.picture.role_styles import page_css


async def style(request: Request) -> Response:
    """The whole look."""
    del request
    return Response(_read("style.css") + page_css(), media_type="text/css")


async def script(request: Request) -> Response:
    """Comfort only: every page works without it."""
    del request
    return Response(_read("trued.js"), media_type="text/javascript")


@cache
def _read(name: str) -> str:
    return files("trued.web").joinpath("static", name).read_text(encoding="utf-8")
