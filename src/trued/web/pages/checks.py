"""The procedures, and the page of each: made from its declaration, so that a new check needs nothing here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.errors import Fault, InputRefused
from trued.usecases.messages.status_message import check_states
from trued.usecases.runs.check_form import CheckForm, check_form
from trued.usecases.runs.run_check import run_check
from trued.usecases.standing.standing import what_stands
from trued.web.fields import fields_of
from trued.web.form_data import Sent, as_typed, fresh, read_sent
from trued.web.guard import device_of
from trued.web.page_context import answers_of, changing, page, see
from trued.words.decisions import Badge

_KNOWN = (Badge.IN, Badge.MEASURED)


def show_all(request: Request, book: Path) -> Response:
    """What is to be checked first, what is not known, what is in tolerance, and how long each takes."""
    del request
    states = check_states(what_stands(book))
    lists = {
        "Do first": [one for one in states if one.first],
        "Not known yet": [one for one in states if not one.first and one.badge not in (*_KNOWN, Badge.NOT_CHECKED)],
        "Not checked": [one for one in states if not one.first and one.badge is Badge.NOT_CHECKED],
        "In tolerance, or no limit": [one for one in states if not one.first and one.badge in _KNOWN],
    }
    return page("checks.html", lists=lists)


def show(request: Request, book: Path) -> Response:
    """How to do one check, and its empty fields."""
    form = check_form(request.path_params["id"], book, request.query_params.get("fixture", ""))
    return _drawn(form, _begun(form, request))


def _begun(form: CheckForm, request: Request) -> Sent:
    """An empty form; at which fence angle it is made stands in it where that is known."""
    sent = fresh(form.unit, form.fixture)
    told = {name: text for name in ("angle", "swing") if (text := request.query_params.get(name, ""))}
    facts = {fact.name: told[fact.name] for fact in form.asked if fact.of_run and fact.name in told}
    swung = any(ask.name == "swung" and told.get("swing") in ask.choices for ask in form.check.asks)
    return replace(sent, facts=facts, readings={"swung": (told["swing"],)} if swung else {})


def send(request: Request, book: Path, given: FormData) -> Response:
    """Work out what was typed and keep it; or show it once more with all that is wrong."""
    id = request.path_params["id"]
    asked = given.get("fixture")
    form = check_form(id, book, asked if isinstance(asked, str) else "")
    sent = read_sent(form.check, given, form.unit)
    if sent.more or changing(given):
        return _drawn(form, sent)
    typed = as_typed(form.check, sent)
    try:
        if not typed:
            raise InputRefused.of("", "", "Nothing was typed yet.")
        kept = run_check(
            id,
            typed,
            sent.facts,
            book=book,
            fixture=sent.fixture or None,
            unit=sent.unit,
            key=sent.key,
            device=device_of(request),
            answers=answers_of(given),
        )
    except InputRefused as refused:
        return _drawn(form, sent, refused.faults, status=422)
    return see(f"/runs/{kept.run}")


def _drawn(form: CheckForm, sent: Sent, faults: Sequence[Fault] = (), status: int = 200) -> Response:
    fields = fields_of(form, sent, faults)
    return page("check.html", status, form=form, check=form.check, sent=sent, fields=fields)
