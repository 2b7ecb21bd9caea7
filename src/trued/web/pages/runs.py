"""One kept run: what was found, what to turn or that nothing is to be turned, and how sure that is."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response

from trued.usecases.runs.result_message import ResultFacts, result_message
from trued.usecases.runs.run_review import OneRun, one_run
from trued.usecases.runs.taking import without_move
from trued.usecases.views import Drawing
from trued.web.page_context import page
from trued.web.saying import MARKS, clock
from trued.words.decisions import Badge
from trued.words.message import Message, Record


def show(request: Request, book: Path) -> Response:
    """The page of one run."""
    run = one_run(request.path_params["id"], book)
    finding, verdict, message = run.finding, run.verdict, message_of(run)
    return page(
        "run.html",
        run=run,
        message=message,
        drawing=_drawing(run),
        taken=clock(run.taken),
        headline=message.verdict if finding else "Can't compute this run",
        waits=run.waits,
        question=verdict.question if verdict is not None else None,
        mark=MARKS[run.decided],
        again=urlencode(({"fixture": run.fixture} if run.fixture else {}) | _turn(run)),
        again_first=bool(message.orders) and not any(order.record for order in message.orders),
        recorded=recorded,
        moves=finding.moves if finding is not None else (),
        typed=[_typed(text) for text in run.typed],
    )


def message_of(run: OneRun) -> Message:
    """The answer as the terminal has it; of an older run what was found alone: what it said then is no order now."""
    if run.finding is None or run.verdict is None:
        return Message(run.check.title.partition(":")[0], Badge.MEASURED)
    standings = run.standings if run.latest else ()
    told = result_message(
        ResultFacts(
            run.check, run.finding, run.verdict, standings, run.unit, run.full, run.cause, run.id, moved=run.moved
        )
    )
    folds = tuple(fold for fold in told.folds if fold.title != "Run")  # a page names it by its first signs
    return replace(told, folds=folds) if run.latest else replace(told, folds=folds, orders=(), lead="")


def recorded(record: Record) -> str:
    """The address of the form by which a move is written down."""
    asked = {"feature": record.full, "direction": record.direction, "amount": record.amount}
    return f"/moved?{urlencode(asked)}"


def _turn(run: OneRun) -> dict[str, str]:
    """The angle and side of the run, for the form that runs it once more."""
    return {name: run.facts[name] for name in ("angle", "swing") if name in run.facts}


def _drawing(run: OneRun) -> Drawing | None:
    """What was found; nothing of a run that does not count, and no move of an older one."""
    if run.drawing is None or run.waits:
        return None
    return run.drawing if run.latest else without_move(run.drawing)


def _typed(text: str) -> tuple[str, str, str]:
    """What was read where, the value as typed, and with what."""
    left, _, value = text.partition("=")
    what, _, instrument = left.partition(":")
    name, at, place = what.partition("@")
    return name.replace("_", " ") + (f" at {place}" if at else ""), value, instrument
