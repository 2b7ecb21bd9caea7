"""Phones: opening the door to the shop's network, the code for one phone, who is in, and taking one out."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import segno
from markupsafe import Markup
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.errors import Fault, InputRefused
from trued.usecases.phones.network import home_addresses, the_address
from trued.usecases.phones.pairing import ROLES, PairingCode
from trued.usecases.phones.phones import let_in, list_phones, one_phone, remove
from trued.web.guard import cookie_of, phone_asking
from trued.web.page_context import changing, page, see, site_of, text_of

KEPT_S = 400 * 24 * 3600
"""So long a phone stays in; browsers keep no cookie longer."""


def show(request: Request, book: Path) -> Response:
    """On this computer the door, the code and who is in; on a phone what it is called and may do."""
    phone = phone_asking(request)
    if phone is not None:
        return page("phone.html", phone=phone, own=True)
    return _drawn(request, book, ())


def open_door(request: Request, book: Path, form: FormData) -> Response:
    """Listen in the shop's network; the risk stood before the button."""
    try:
        site_of(request).door.open(request.app, the_address(text_of(form, "address")), request.scope["server"][1] or 0)
    except InputRefused as refused:
        return _drawn(request, book, refused.faults, 422)
    return see("/phones")


def shut_door(request: Request, book: Path, form: FormData) -> Response:
    """No phone comes in any more until the door is opened again; who was let in stays let in."""
    del book, form
    site = site_of(request)
    site.pairing.end()
    site.door.shut()
    return see("/phones")


def new_code(request: Request, book: Path, form: FormData) -> Response:
    """A code for one phone; the one before it is dead."""
    role = text_of(form, "role")
    if site_of(request).door.address is None:
        return _drawn(request, book, (Fault("", "", "Open the door first."),), 409)
    if role not in ROLES:
        return _drawn(request, book, (Fault("role", role, "Say what this phone may do."),), 422)
    site_of(request).pairing.new(role, datetime.now(UTC))
    return see("/phones")


def show_one(request: Request, book: Path) -> Response:
    """One phone, and the button that removes it."""
    if phone_asking(request) is not None:
        return see("/phones")
    return page("phone.html", phone=one_phone(request.path_params["id"], book), own=False)


def remove_one(request: Request, book: Path, form: FormData) -> Response:
    """Take it out; its next request is refused."""
    if not changing(form):
        remove(request.path_params["id"], book)
    return see("/phones")


def show_pair(request: Request, book: Path) -> Response:
    """Where a phone gives the code; looking at it uses nothing up."""
    del book
    if request.scope["server"][0] != site_of(request).door_host:
        return see("/phones")
    return see("/") if phone_asking(request) is not None else _pair("", ())


def send_pair(request: Request, book: Path, form: FormData) -> Response:
    """Let this phone in when its code is right."""
    site, now, name = site_of(request), datetime.now(UTC), text_of(form, "name")
    if site.pairing.too_often(now):
        return _pair(name, ("Too many tries. Wait a minute.",), 429)
    code = site.pairing.use(text_of(form, "code"), now)
    if code is None:
        return _pair(name, ("This is not the code on the computer, or it is over. Ask for a new one there.",), 403)
    try:
        _, key = let_in(name, code.role, book)
    except InputRefused as refused:
        site.pairing.give_back(code)
        return _pair(name, tuple(fault.text for fault in refused.faults), 422)
    answer = see("/")
    secure = request.url.scheme == "https"
    answer.set_cookie(cookie_of(site), key, KEPT_S, path="/", secure=secure, httponly=True, samesite="lax")
    return answer


def _pair(name: str, faults: tuple[str, ...], status: int = 200) -> Response:
    return page("pair.html", status, name=name, faults=faults)


def _drawn(request: Request, book: Path, faults: tuple[Fault, ...], status: int = 200) -> Response:
    site, now = site_of(request), datetime.now(UTC)
    code = site.pairing.code(now) if site.door.address else None
    at = "http://{}:{}/".format(*site.door.address) if site.door.address else ""
    return page(
        "phones.html",
        status,
        at=at,
        addresses=home_addresses() if not at else (),
        code=code,
        minutes=max(1, round((code.until - now).total_seconds() / 60)) if code else 0,
        qr=_qr(at, code) if code else "",
        roles=ROLES,
        phones=list_phones(book),
        faults=faults,
    )


def _qr(at: str, code: PairingCode) -> Markup:
    """The address with the code behind `#`, which a browser never sends; made of our own letters only."""
    made = segno.make(f"{at}pair#{code.secret}", error="m", micro=False)
    drawn = made.svg_inline(scale=6, border=4, dark="#000", light="#fff", title="The code for the phone's camera")
    return Markup(drawn)  # noqa: S704 -- see above
