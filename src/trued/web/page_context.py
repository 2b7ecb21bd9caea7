"""What every page needs: the book, its turn to use it, and the templates."""

from __future__ import annotations

import re
import secrets
import threading
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from trued.errors import Asks, one_action
from trued.render.picture.svg import svg
from trued.usecases.phones.pairing import PLAIN_WIFI, Pairing
from trued.usecases.views import Drawing
from trued.web.apart import here
from trued.web.assets import address
from trued.web.door import Door
from trued.words.ticket import copies


@dataclass(frozen=True, slots=True)
class Site:
    """`turn`: one form at a time is kept, so that one connection at a time writes the book; `planning`: one job at a
    time is planned, and no other form waits for it. Pages that only show wait for nothing: the book lets many read it.

    answers: what a form with that key led to, so that the same form sent again leads there too.
    apart: runs long work, in a process of its own where the site is really served.
    door, pairing: where phones come in from the shop's network, and the code that lets one in.
    """

    book: Path
    door: Door = field(default_factory=Door)
    pairing: Pairing = field(default_factory=Pairing)
    apart: Callable[..., Any] = here
    turn: threading.Lock = field(default_factory=threading.Lock)
    planning: threading.Lock = field(default_factory=threading.Lock)
    answers: dict[str, object] = field(default_factory=dict)

    @property
    def door_host(self) -> str | None:
        """The address in the shop's network that is listened at; None while the door is shut."""
        return self.door.address[0] if self.door.address else None

    def keep(self, key: str, answer: object) -> None:
        """Keep an answer; the oldest goes when there are many."""
        self.answers[key] = answer
        while len(self.answers) > _MOST_ANSWERS:
            del self.answers[next(iter(self.answers))]


_MOST_ANSWERS = 50


Endpoint = Callable[[Request], Awaitable[Response]]


def get(work: Callable[[Request, Path], Response]) -> Endpoint:
    """A page that only shows."""

    async def endpoint(request: Request) -> Response:
        return await run_in_threadpool(_one_action, request, lambda book: work(request, book))

    return endpoint


def post(work: Callable[[Request, Path, FormData], Response], *, long: bool = False) -> Endpoint:
    """A form that was sent; `long`: it plans a job, and the other forms do not wait for it."""

    async def endpoint(request: Request) -> Response:
        async with request.form(max_files=1, max_fields=2000) as form:
            # A name may come twice, once with a file and once with a text; so all are looked at, not the last of each.
            request.state.files = {name: await v.read() for name, v in form.multi_items() if not isinstance(v, str)}
            site = site_of(request)
            turn = site.planning if long else site.turn
            return await run_in_threadpool(_in_turn, turn, request, lambda book: _or_asked(work, request, book, form))

    return endpoint


def _or_asked(
    work: Callable[[Request, Path, FormData], Response], request: Request, book: Path, form: FormData
) -> Response:
    """What the form leads to; a question that must be answered first is shown with all that was typed."""
    try:
        return work(request, book, form)
    except Asks as asks:
        instead: dict[str, str] = getattr(request.state, "instead", {})
        typed = [
            (name, value)
            for name, value in form.multi_items()
            if isinstance(value, str) and name not in {*instead, "change"}
        ]
        question, *others = asks.questions
        return page(
            "asked.html",
            409,
            address=request.url.path,
            question=question,
            others=len(others),
            typed=[*typed, *instead.items()],
        )


def answers_of(form: FormData) -> list[str]:
    """What was answered to what this form asked before."""
    return texts_of(form, "answer")


def changing(form: FormData) -> bool:
    """Whether the person went back from a question to change what was typed."""
    return bool(text_of(form, "change"))


def _in_turn(turn: threading.Lock, request: Request, work: Callable[[Path], Response]) -> Response:
    with turn:
        return _one_action(request, work)


def _one_action(request: Request, work: Callable[[Path], Response]) -> Response:
    with one_action() as request.state.kept:
        return work(site_of(request).book)


def site_of(request: Request) -> Site:
    """The site that was asked."""
    site: Site = request.app.state.site
    return site


@cache
def _templates() -> Environment:
    made = Environment(
        loader=PackageLoader("trued.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals["asset"] = address
    made.globals["svg"] = picture
    made.globals["risk"] = PLAIN_WIFI
    made.filters["copies"] = copies
    made.filters["cuts"] = cuts
    return made


def page(template: str, status: int = 200, **values: object) -> HTMLResponse:
    """A page from its template; every text in it is escaped."""
    return HTMLResponse(_templates().get_template(template).render(values), status)


def see(address: str) -> RedirectResponse:
    """After a form was kept: the browser is sent on, so that a reload sends nothing twice."""
    return RedirectResponse(address, 303)


def picture(drawing: Drawing, width: float = 360) -> Markup:
    """A drawing as markup; its texts are escaped where it is made."""
    return Markup(svg(drawing, width=width))  # noqa: S704 -- made of numbers and escaped texts


_CUTS = re.compile(r"^(Before )?((?:T\d+)(?:(?:, | to )T\d+)*)(?=\b)")


def cuts(text: str) -> str:
    """Cuts as the pages number them: `cuts 3 to 9` for the ids `T3 to T9` that begin a sentence."""

    def said(found: re.Match[str]) -> str:
        numbers = found[2].replace("T", "")
        word = "cut" if numbers.isdigit() else "cuts"
        return f"Before {word} {numbers}" if found[1] else f"{word.capitalize()} {numbers}"

    return _CUTS.sub(said, text)


_KEY = re.compile(r"[0-9a-f]{32}")


def new_key() -> str:
    """A fresh key for a form: what is kept under it is kept once, however often it is sent."""
    return secrets.token_hex(16)


def key_of(form: FormData) -> str:
    """The key that came with a form; a fresh one when it is none of ours."""
    key = text_of(form, "key")
    return key if _KEY.fullmatch(key) else new_key()


def text_of(form: FormData, name: str) -> str:
    """One text of a form; "" when it is not there."""
    value = form.get(name)
    return value if isinstance(value, str) else ""


def texts_of(form: FormData, name: str) -> list[str]:
    """Every text of that name, in the order of the page."""
    return [value for value in form.getlist(name) if isinstance(value, str)]
