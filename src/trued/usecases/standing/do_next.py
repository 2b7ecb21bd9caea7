"""The one thing to do now: answer, make lawful, check, turn, or cut. And what is to be looked at again, by date."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from trued.errors import Question
from trued.usecases.saved.saved_plan import KeptOther, KeptPlan, find_plan, list_plans
from trued.usecases.saved.saved_ticket import KeptTicket
from trued.usecases.standing.shop_verdict import trusted
from trued.usecases.standing.standing import Line, StandingView, Unchecked, what_stands


@dataclass(frozen=True, slots=True)
class DoNext:
    """One of these is set, by `what`.

    what: `answer` (question), `banned` (what must not be used), `step` (line: the standing with its next step), `check`
    (a check never done here whose features can hurt someone), `cut` (the plan and its next cut), `begin` (an empty
    book) or `nothing`.
    """

    what: str
    view: StandingView
    question: Question | None = None
    line: Line | None = None
    check: Unchecked | None = None
    plan: KeptPlan | None = None
    ticket: KeptTicket | None = None


def do_next(book: Path, *, at: datetime | None = None) -> DoNext:
    """What hurts someone comes first, then what is asked, then what is out, then the open plan, then the rest."""
    view = what_stands(book, at=at)
    steps = [line for line in view.do_first if line.standing.next is not None]
    unsafe = next((line for line in steps if line.standing.safety and not trusted(line)), None)
    if unsafe is not None:
        return DoNext("step", view, line=unsafe)
    if view.bans:
        return DoNext("banned", view)
    if view.questions:
        return DoNext("answer", view, question=view.questions[0])
    if view.lines and (unseen := next((check for check in view.never if check.safety), None)) is not None:
        return DoNext("check", view, check=unseen)
    out = next((line for line in steps if line.standing.decision == "proven-out"), None)
    if out is not None:
        return DoNext("step", view, line=out)
    plan = open_plan(book)
    if plan is not None and plan.begin is not None:
        return DoNext("cut", view, plan=plan, ticket=plan.begin)
    if steps:
        return DoNext("step", view, line=steps[0])
    return DoNext("nothing" if view.lines else "begin", view)


def open_plan(book: Path, beginning: str = "") -> KeptPlan | None:
    """The latest plan that has a cut left, or the one whose id begins so; None when there is none to read."""
    for line in list_plans(book):
        if beginning and not line.id.startswith(beginning):
            continue
        if not line.other and (beginning or line.done < line.tickets):
            found = find_plan(line.id, book)
            return None if isinstance(found, KeptOther) else found
    return None


@dataclass(frozen=True, slots=True)
class Due:
    """What is to be looked at again: since it was put in doubt (`doubt`), or by a date or so many sessions."""

    line: Line
    doubt: str
    date: datetime | None
    uses: int | None


def due(book: Path, *, at: datetime | None = None) -> tuple[StandingView, tuple[Due, ...]]:
    """What is in doubt now, then what comes due, the earliest first; what never wanders by itself is left out."""
    view = what_stands(book, at=at)
    now = [Due(line, "; ".join(line.standing.stale), None, None) for line in view.lines if line.standing.stale]
    later = [
        Due(line, "", again.date, again.uses)
        for line in view.lines
        if not line.standing.stale and (again := line.standing.look_again) is not None and again.date is not None
    ]
    return view, (*now, *sorted(later, key=lambda one: one.date or view.now))
