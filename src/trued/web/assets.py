"""The style sheet and the one script: our own, served from here, nothing from outside.

A page names each by what it holds, so a browser keeps it for a year and asks again only when it has changed.
"""

from __future__ import annotations

import gzip
import hashlib
from functools import cache
from importlib.resources import files

from starlette.requests import Request
from starlette.responses import Response

from trued.render.picture.role_styles import page_css

_KEEP = "public, max-age=31536000, immutable"


async def style(request: Request) -> Response:
    """The whole look."""
    return _answer(request, "style.css", "text/css")


async def script(request: Request) -> Response:
    """Comfort only: every page works without it."""
    return _answer(request, "trued.js", "text/javascript")


@cache
def address(name: str) -> str:
    """Where a page finds it: another address for every other content."""
    return f"/{name}?{_version(name)}"


def _answer(request: Request, name: str, kind: str) -> Response:
    headers = {"ETag": f'"{_version(name)}"', "Vary": "Accept-Encoding"}
    if request.url.query == _version(name):
        headers["Cache-Control"] = _KEEP
    if request.headers.get("if-none-match") == headers["ETag"]:
        return Response(status_code=304, headers=headers)
    if "gzip" in request.headers.get("accept-encoding", ""):
        return Response(_zipped(name), headers=headers | {"Content-Encoding": "gzip"}, media_type=kind)
    return Response(_content(name), headers=headers, media_type=kind)


@cache
def _content(name: str) -> bytes:
    text = files("trued.web").joinpath("static", name).read_text(encoding="utf-8")
    return (text + page_css() if name == "style.css" else text).encode()


@cache
def _zipped(name: str) -> bytes:
    return gzip.compress(_content(name), mtime=0)


@cache
def _version(name: str) -> str:
    return hashlib.sha256(_content(name)).hexdigest()[:12]
