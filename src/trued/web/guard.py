"""Who may ask: this computer, phones that were let in, and a form only from our own pages. What every answer forbids.

A page of a stranger, open in the same browser, can send requests here. It cannot name our host (a name that it made
to mean this computer gives itself away in Host), and it cannot send a form (the browser says in Sec-Fetch-Site or
Origin where the form stands; over plain http on a home network only Origin is sent, so there it must be ours).
"""

from __future__ import annotations

import hashlib
import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from ipaddress import ip_address
from urllib.parse import urlsplit

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from trued.usecases.phones.phones import Phone, phone_of
from trued.web.page_context import Site

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
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-cache",
}


_OPENER = ("Cross-Origin-Opener-Policy", "same-origin")
"""Over plain http from another computer a browser only complains of it."""

UNPAIRED = ("/pair", "/style.css", "/trued.js")
"""All that a phone is shown before it was let in."""
A_SECOND, AT_ONCE = 20.0, 60.0
"""So many requests a second a phone may send for long, and so many after a rest: a page is three."""


class Guard:
    """Wraps the whole site of one book."""

    def __init__(self, app: ASGIApp, site: Site) -> None:
        self._app, self._site, self._pace = app, site, Pace(A_SECOND, AT_ONCE)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse, or pass on and add the headers."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        at_door = scope["server"] is not None and scope["server"][0] == self._site.door_host

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                sent = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    sent.setdefault(name, value)
                if not at_door or scope["scheme"] == "https":
                    sent.setdefault(*_OPENER)
            await send(message)

        refused: Response | None = _refusal(scope, headers, at_door=at_door)
        if refused is None and at_door:
            refused = await self._of_phone(Request(scope))
        await (refused or self._app)(scope, receive, with_headers)

    async def _of_phone(self, request: Request) -> Response | None:
        """Of what comes from the network only what a phone that was let in may do is passed on."""
        path, reads = request.url.path, request.method in ("GET", "HEAD")
        key = request.cookies.get(cookie_of(self._site), "")
        phone = await run_in_threadpool(phone_of, key, self._site.book) if key else None
        if phone is None:
            if path in UNPAIRED:
                return None
            if reads:
                return RedirectResponse("/pair", 303)
            return PlainTextResponse("This phone was not let in, or was removed; nothing was kept.", 403)
        if not self._pace.takes(phone.id):
            return PlainTextResponse("Too many requests at once. Wait a second, then try again.", 429)
        if not reads and (not phone.may_write or path.startswith("/phones")):
            text = "Phones are let in and removed at the computer." if phone.may_write else "This phone may only look."
            return PlainTextResponse(f"{text} Nothing was kept.", 403)
        request.state.phone = phone
        return None


class Pace:
    """How often each may ask: a bucket that fills by so many a second, up to so many."""

    def __init__(self, a_second: float, at_once: float, clock: Callable[[], float] = time.monotonic) -> None:
        self._a_second, self._at_once, self._clock = a_second, at_once, clock
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()
        self._lock = threading.Lock()

    def takes(self, who: str) -> bool:
        """Whether one more of them is taken now."""
        with self._lock:
            now = self._clock()
            left, since = self._left.get(who, (self._at_once, now))
            left = min(self._at_once, left + (now - since) * self._a_second)
            taken = left >= 1
            self._left[who] = (left - taken, now)
            self._left.move_to_end(who)
            while len(self._left) > _MOST_PACED:
                self._left.popitem(last=False)
            return taken


_MOST_PACED = 1000


def cookie_of(site: Site) -> str:
    """The name of the cookie with a phone's key: all ports of an address share their cookies, each book has its own."""
    return f"trued-{hashlib.sha256(str(site.book.absolute()).encode()).hexdigest()[:8]}"


def phone_asking(request: Request) -> Phone | None:
    """The phone that asks; None for this computer's own browser."""
    phone: Phone | None = getattr(request.state, "phone", None)
    return phone


def device_of(request: Request) -> str:
    """The id of the device that asks, for the rows that it writes; "" for this computer."""
    phone = phone_asking(request)
    return phone.id if phone is not None else ""


def _refusal(scope: Scope, headers: Headers, *, at_door: bool) -> PlainTextResponse | None:
    host = headers.get("host", "")
    if len(headers.getlist("host")) != 1 or not names_us(host, scope["server"], at_door=at_door):
        text = "This page answers only by the address that was printed when it was opened."
        return PlainTextResponse(text, 421)
    if scope["method"] in ("GET", "HEAD"):
        return None
    if not _from_our_page(headers, f"{scope['scheme']}://{host}", at_door=at_door):
        return PlainTextResponse("This form was not sent from a page of trued; nothing was kept.", 403)
    length = headers.get("content-length", "")
    if not length.isdecimal() or int(length) > MOST_BYTES:
        return PlainTextResponse("This is more than a form of trued can hold; nothing was kept.", 413)
    return None


def names_us(host: str, server: tuple[str, int | None] | None, *, at_door: bool) -> bool:
    """Whether a Host is the address and port that was asked: of the door, or of this computer at home by any of its
    names for itself."""
    try:
        parts = urlsplit(f"//{host}")
        name, port = parts.hostname or "", parts.port
    except ValueError:
        return False
    if server is None or parts.path or parts.query or parts.fragment:
        return False
    if "@" in host or any(sign in host for sign in " \t/\\?#") or (port or 80) != (server[1] or 80):
        return False
    if at_door:
        return name == server[0]
    try:
        return name == "localhost" or ip_address(name).is_loopback
    except ValueError:
        return False


def _from_our_page(headers: Headers, own: str, *, at_door: bool) -> bool:
    """What the browser says of where the form stands. At home a program that is no browser says nothing, and may send;
    at the door nothing said is nothing taken."""
    site, origin = headers.get("sec-fetch-site"), headers.get("origin")
    if site is not None and site not in ("same-origin", "none"):
        return False
    return not at_door if origin is None else origin.lower() == own.lower()
