"""Who may ask: this computer by its own name, and a form only from our own pages. What every answer forbids.

A page of a stranger, open in the same browser, can send requests here. It cannot name our host (a name that it made
to mean this computer gives itself away in Host), and it cannot send a form (the browser says in Sec-Fetch-Site or
Origin where the form stands).
"""

from __future__ import annotations

from ipaddress import ip_address
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BYTES = 1_000_000
"""Of a form: a job file is a few thousand."""

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "form-action 'self'; frame-ancestors 'none'; base-uri 'none'; manifest-src 'self'; worker-src 'self'"
)
HEADERS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-cache",
}


class Guard:
    """Wraps the whole site."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse, or pass on and add the headers."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        refused = _refusal(scope["method"], Headers(scope=scope), scope["scheme"])
        await (refused or self._app)(scope, receive, with_headers)


def _refusal(method: str, headers: Headers, scheme: str) -> PlainTextResponse | None:
    host = headers.get("host", "")
    if len(headers.getlist("host")) != 1 or not is_our_name(host):
        text = "This page answers only by the address that was printed when it was opened."
        return PlainTextResponse(text, 421)
    if method in ("GET", "HEAD"):
        return None
    if not _from_our_page(headers, f"{scheme}://{host}"):
        return PlainTextResponse("This form was not sent from a page of trued; nothing was kept.", 403)
    length = headers.get("content-length", "")
    if not length.isdecimal() or int(length) > MOST_BYTES:
        return PlainTextResponse("This is more than a form of trued can hold; nothing was kept.", 413)
    return None


def is_our_name(host: str) -> bool:
    """Whether a Host names this computer itself: an address in figures, or localhost, with any port."""
    try:
        parts = urlsplit(f"//{host}")
        name, _ = parts.hostname or "", parts.port
    except ValueError:
        return False
    if parts.path or parts.query or parts.fragment or "@" in host or any(sign in host for sign in " \t/\\?#"):
        return False
    if name == "localhost":
        return True
    try:
        ip_address(name)
    except ValueError:
        return False
    return True


def _from_our_page(headers: Headers, own: str) -> bool:
    """What the browser says of where the form stands; a program that is no browser says nothing, and may send."""
    site, origin = headers.get("sec-fetch-site"), headers.get("origin")
    if site is not None and site not in ("same-origin", "none"):
        return False
    return origin is None or origin.lower() == own.lower()
