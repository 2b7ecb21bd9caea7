"""One kept run: what was found, what to turn or that nothing is to be turned, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response

from trued.usecases.changes.adjustments import hand_of_move
from trued.usecases.runs.error_cause import cause_said
from trued.usecases.runs.run_review import OneRun, one_run
from trued.usecases.runs.taking import without_move
from trued.usecases.showing import brief, chance_said, found_said, shown, two_sided, within_said
from trued.usecases.standing.action_queue import visits
from trued.usecases.views import Drawing, Estimate, FeatureStatus, Move
from trued.usecases.words import verdict_said
from trued.web.page_context import page
from trued.web.pages.home import MARKS, clock


@dataclass(frozen=True, slots=True)
class Order:
    """What to do now, as one huge line. amount: "" where nothing is turned; at: where that is measured; turned: the
    address of its form; mend: something is mended by hand, and cautions stand there; more: what follows the first
    sentence of the text."""

    word: str
    amount: str
    text: str
    why: str
    turned: str = ""
    again: bool = False
    at: str = ""
    mend: bool = False
    more: str = ""


@dataclass(frozen=True, slots=True)
class Number:
    """One feature as found."""

    name: str
    mark: str
    state: str
    value: str
    spread: str
    tolerance: str
    chance: str
    runs: str
    parts: tuple[str, ...]


def show(request: Request, book: Path) -> Response:
    """The page of one run."""
    run = one_run(request.path_params["id"], book)
    finding, verdict = run.finding, run.verdict
    return page(
        "run.html",
        run=run,
        drawing=_drawing(run),
        taken=clock(run.taken),
        headline=verdict.text if verdict is not None else "No longer to be worked out",
        dangers=verdict.dangers if verdict is not None else (),
        waits=run.waits,
        question=verdict.question if verdict is not None else None,
        mark=MARKS[run.decided],
        again=urlencode(({"fixture": run.fixture} if run.fixture else {}) | _turn(run)),
        order=order_of(run),
        then=then_of(run),
        cause=cause_said(run.cause, run.standings) if run.cause is not None else "",
        numbers=[number_of(e, run) for e in finding.estimates] if finding is not None and not run.waits else [],
        looks=[seen.text for seen in finding.doubts] if finding is not None else [],
        notes=[seen.text for seen in finding.seen if seen.act == "note"] if finding is not None else [],
        moves=finding.moves if finding is not None else (),
        typed=[_typed(text) for text in run.typed],
    )


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


def order_of(run: OneRun) -> Order | None:
    """The next step that all runs together lead to; what the run says by itself where nothing is kept of its features.
    None for an older run: what it said then is no order now."""
    if run.finding is None or run.verdict is None or not run.latest:
        return None
    if run.verdict.question is not None:
        return None
    if run.verdict.read_again:
        what = run.verdict.do.partition(": ")[2]  # the headline says the rest
        return Order("TURN NOTHING", "", f"{what[:1].upper()}{what[1:]}", "", again=True)
    if (standing := run.first) is not None:
        return _of_standing(standing, run)
    if run.finding.moves:
        return _of_move(run.finding.moves[0], run)
    if run.decided is None:
        return None
    return Order("LEAVE IT", "", "Turn nothing: leave the adjustment as it is.", "")


def then_of(run: OneRun) -> list[Order]:
    """What else is turned or mended before the check is run again."""
    if run.finding is None or run.verdict is None or run.waits or run.verdict.question is not None or not run.latest:
        return []
    return [_of_standing(step.first, run) for visit in visits(run.standings)[:1] for step in visit.steps[1:]]


def _of_standing(standing: FeatureStatus, run: OneRun) -> Order:
    step = standing.next
    if step is None or step.do == "leave":
        return Order("LEAVE IT", "", "Turn nothing.", step.why if step is not None else "")
    if step.do == "move" and step.direction:
        typed, amount, at = run.amounts.get(standing.feature, ("", "", ""))
        asked = {"feature": standing.feature, "direction": step.direction, "amount": typed}
        turned = f"/moved?{urlencode(asked)}"
        if not step.order:  # it is mended by what is set, and the words begin with that
            first, _, rest = step.text.partition(": ")
            return Order(first.replace(" in ", "\u00a0in "), "", rest[:1].upper() + rest[1:], step.why, turned)
        first, more = _sentences(step.text)
        return Order(step.order.upper(), amount, first, step.why, turned, at=at, more=more)
    if step.do == "look":
        mends = step.mends or bool(standing.dangers)
        first, more = _sentences(step.text) if mends else (step.text, "")
        word = "LOOK FIRST" if not mends else "DON'T CUT. FIX IT" if standing.safety else "FIX IT"
        return Order(word, "", first, step.why, mend=mends, more=more)
    return Order("ONCE MORE", "", f"{step.text} Turn nothing yet.", step.why, again=True)


def _of_move(move: Move, run: OneRun) -> Order:
    full = run.full.get(move.feature, move.feature)
    hand = hand_of_move(move, run.finding.estimates if run.finding is not None else (), full, run.unit)
    asked = {"feature": full, "direction": move.direction, "amount": hand.typed if hand is not None else ""}
    amount, at = (hand.shown, hand.at) if hand is not None else ("", "")
    word = move.direction.replace("-", " ").upper()
    first, more = _sentences(move.text)
    return Order(word, amount, first, "", f"/moved?{urlencode(asked)}", at=at, more=more)


def _sentences(text: str) -> tuple[str, str]:
    """The first sentence, to be read from the saw, and the others."""
    first, stop, more = text.partition(". ")
    return f"{first}{stop.strip()}", more


def _all_runs(e: Estimate, run: OneRun) -> FeatureStatus | None:
    """What all runs together say of it, where this is the newest; None where nothing is kept of it."""
    name = run.full.get(e.feature, "")
    return next((s for s in run.standings if run.latest and s.believed and s.feature == name), None)


def number_of(e: Estimate, run: OneRun) -> Number:
    """One estimate in words."""
    unit = run.unit
    sign = two_sided(e.limits)
    all_runs = _all_runs(e, run)
    decision, side, chance, source = (
        (e.decision, e.side, e.chance_in, e.scatter_source)
        if all_runs is None
        else (all_runs.decision, all_runs.side, all_runs.chance_in, all_runs.scatter_source)
    )
    low, high = (brief(x, e.unit, unit, sign=sign) for x in e.interval95)
    more = f"{e.runs_to_decide} runs in all, with nothing touched between, would decide it if they agree."
    return Number(
        name=run.names.get(e.feature, e.feature),
        mark=MARKS[decision],
        state=verdict_said(decision, e.feature, side, e.limits),
        value=found_said(e.value, e.unit, unit, e.limits, e.feature),
        spread=f"95 times in 100 between {low} and {high}",
        tolerance=within_said(e.limits, e.unit, unit) if e.limits is not None else "",
        chance=chance_said(chance, source) if chance is not None else "",
        runs=more if e.runs_to_decide is not None and all_runs is None else "",
        parts=tuple(f"{c.label}: {shown(c.u, e.unit, unit)}" for c in e.components if c.u > 0.1 * e.u),
    )
