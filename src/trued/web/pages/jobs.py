"""The kept plans, and a new one from a job file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import FileResponse, Response

from trued.errors import Fault, InputRefused
from trued.usecases.plan.words import not_made_words
from trued.usecases.saved.plan_once import plan_once
from trued.usecases.saved.saved_plan import KeptOther, find_plan, kept_plan, list_plans
from trued.usecases.shop.list_checks import list_checks
from trued.usecases.words import feature_said
from trued.web.page_context import answers_of, changing, key_of, new_key, page, see, site_of, text_of
from trued.web.saying import clock

SECONDS = 10.0
"""How long the layout of one job is searched for at most, while the person waits."""


def show_all(request: Request, book: Path) -> Response:
    """Every kept plan, and the form for a new one."""
    del request
    return _drawn(book, new_key(), "", "", ())


def send(request: Request, book: Path, form: FormData) -> Response:
    """Plan the job that was sent, keep the plan and print its sheets beside the book."""
    key, kerf = key_of(form), text_of(form, "kerf").strip()
    text = text_of(form, "text").replace("\r\n", "\n")
    try:
        text = _file(request) or text
        request.state.instead = {"text": text}  # a file cannot be sent again by a form that asks
        if changing(form):
            return _drawn(book, key, text, kerf, ())
        if not text.strip():
            raise InputRefused.of("", "", "Choose a job file, or paste its text.")
        kept = site_of(request).apart(
            plan_once,
            text,
            kerf or None,
            book,
            key,
            seconds=SECONDS,
            out=partial(_sheets_beside, book),
            answers=answers_of(form),
        )
    except InputRefused as refused:
        return _drawn(book, key, text, kerf, refused.faults, 422)
    return see(f"/jobs/{kept}")


def show(request: Request, book: Path) -> Response:
    """One plan: does it go together, what comes from which board, and its cuts."""
    plan = find_plan(request.path_params["id"], book)
    if isinstance(plan, KeptOther):
        return page("job_other.html", plan=plan, made=clock(plan.line.made), key=new_key())
    titles = {check.id: check.title for check in list_checks()}
    return page(
        "job.html",
        plan=plan,
        made=clock(plan.line.made),
        titles=titles,
        stale=[feature_said(name) for name in plan.plan.stale],
        assumed=[feature_said(name) for name in plan.plan.assumed],
        not_made=not_made_words(plan.plan),
        joints=[line for one in plan.plan.assemblies for line in one.said],
        key=new_key(),
    )


def sheets(request: Request, book: Path) -> Response:
    """The printed sheets."""
    plan = kept_plan(request.path_params["id"], book)
    if plan.sheets is None:
        raise InputRefused.of("sheets", "", "There are no sheets that hold now; plan the job again to have them.")
    return FileResponse(plan.sheets, media_type="application/pdf", filename=plan.sheets.name)


def _file(request: Request) -> str:
    """The text of the file that was chosen; "" when there is none."""
    content: bytes = request.state.files.get("file", b"")
    try:
        return content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        raise InputRefused.of("file", "", "This file is no text; choose the job file itself.") from None


def _sheets_beside(book: Path, id: str) -> Path:
    """A folder beside the book for each plan, so that no sheet is written over another."""
    return book.absolute().parent / f"{book.stem}-sheets" / id[:8]


def _drawn(book: Path, key: str, text: str, kerf: str, faults: Sequence[Fault], status: int = 200) -> Response:
    plans = [(line, clock(line.made)) for line in list_plans(book)]
    told = [_as_on_the_page(fault) for fault in faults]
    return page("jobs.html", status, plans=plans, key=key, text=text, kerf=kerf, faults=told)


def _as_on_the_page(fault: Fault) -> Fault:
    """By the name that stands beside the field: a page has no command-line words."""
    where = "Kerf" if fault.where == "--kerf" else fault.where
    return replace(fault, where=where, text=fault.text.replace("give --kerf", "fill in the kerf below"))
