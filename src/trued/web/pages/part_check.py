"""Measured parts of a kept plan: did they come out, does it still go together, what was learnt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.errors import Fault, InputRefused
from trued.usecases.messages.parts_message import message_of, questions_of
from trued.usecases.saved.inspect_parts import ProofView, prove_job
from trued.usecases.saved.saved_plan import KeptPlan, kept_plan
from trued.web.field import Field, Fields, with_faults
from trued.web.page_context import answers_of, changing, key_of, new_key, page, see, site_of, text_of
from trued.web.pages.runs import recorded
from trued.web.saying import SHAPES


def show(request: Request, book: Path) -> Response:
    """A field for every copy and every gap; what is not measured stays empty."""
    plan = kept_plan(request.path_params["id"], book)
    return _drawn(plan, new_key(), {}, "", "", ())


def send(request: Request, book: Path, form: FormData) -> Response:
    """Judge and keep what was measured."""
    plan, key, site = kept_plan(request.path_params["id"], book), key_of(form), site_of(request)
    typed = {where: text for where, _ in _wheres(plan) if (text := " ".join(text_of(form, f"m.{where}").split()))}
    instrument, more = text_of(form, "with"), text_of(form, "more").replace("\r\n", "\n")
    mark = f":{instrument}" if instrument else ""
    texts = [f"{where}{mark}={value}" for where, value in typed.items()]
    texts += [line.strip() for line in more.splitlines() if line.strip()]
    if changing(form):
        return _drawn(plan, key, typed, instrument, more, ())
    try:
        if not texts:
            raise InputRefused.of("", "", "Nothing was typed yet; one part is enough to begin with.")
        view = prove_job(plan.line.text, texts, book=book, key=key, answers=answers_of(form))
    except InputRefused as refused:
        return _drawn(plan, key, typed, instrument, more, refused.faults, 422)
    run = view.run or key
    if run not in site.answers:  # sent again, what was told the first time stays
        site.keep(run, view)
    return see(f"/jobs/{plan.line.id}/measured/{run}")


def result(request: Request, book: Path) -> Response:
    """What came of it, while this program still has it at hand; the readings themselves are in the book."""
    plan = kept_plan(request.path_params["id"], book)
    view = site_of(request).answers.get(request.path_params["key"])
    if not isinstance(view, ProofView):
        return see(f"/jobs/{plan.line.id}")
    message = message_of(view)
    return page(
        "measured.html",
        plan=plan,
        mark=SHAPES.get(message.badge, "◇") if message.badge else "◇",
        headline=message.verdict,
        message=message,
        recorded=recorded,
        questions=questions_of(view),
        run=view.run,
    )


def _wheres(plan: KeptPlan) -> Iterator[tuple[str, str]]:
    """What can be measured, as the command line names it, and its words."""
    for part in plan.plan.parts:
        if not part.held_back:
            for copy in range(1, part.quantity + 1):
                length = part.text.partition(" × ")[0].removesuffix(" in") + (" in" if plan.plan.unit == "in" else "")
                yield f"{part.id}@{copy}", f"{part.id} {copy}: length, meant to be {length}"
    for fit in plan.fits:
        yield fit.name, f"{fit.name}, measured itself: needed {fit.needed}"


def _drawn(
    plan: KeptPlan,
    key: str,
    typed: dict[str, str],
    instrument: str,
    more: str,
    faults: Sequence[Fault],
    status: int = 200,
) -> Response:
    inputs = tuple(
        Field(f"m.{n}", f"m.{where}", label, typed.get(where, ""), plan.plan.unit, "text", where, 0)
        for n, (where, label) in enumerate(_wheres(plan))
    )
    fields = with_faults(Fields((), inputs, (), ()), faults)
    values = {"key": key, "instrument": instrument, "more": more}
    return page("measure.html", status, plan=plan, fields=fields, **values)
