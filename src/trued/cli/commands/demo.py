"""`trued demo`: the whole job in the demo workshop, each figure in plain words."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path

from trued.cli.commands import parts as parts_command
from trued.cli.lines import wrapped
from trued.cli.result import Answer, Json, print_on_the_way
from trued.cli.text import check as check_words
from trued.cli.text import plan as plan_words
from trued.errors import InputRefused
from trued.usecases.changes.record_move import MoveView
from trued.usecases.demo.demo import BOOK, DEFAULT_FOLDER, Demo, DemoStep, Outcome
from trued.usecases.plan.document import document_of
from trued.usecases.plan.planned import PlanView
from trued.usecases.runs.taking import CheckRun
from trued.usecases.saved.inspect_parts import ProofView
from trued.usecases.shop.describe_shop import ShopView
from trued.usecases.showing import brief, chance_said, found_said, shown
from trued.usecases.standing.standing import StandingView
from trued.words.status import status_text

_WORDS = (
    "An invented workshop. Every number comes with how sure it is. 'Out of tolerance' needs at least 95%. "
    "'In tolerance' needs that too, and a second run, same setup. So a first run can say 'not known yet' at 98%. "
    "Behind ± stands the 95% interval."
)


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Where to, and which workshop."""
    del words
    parser.add_argument("--out", metavar="DIR", default=DEFAULT_FOLDER, help=f"the demo's folder ({DEFAULT_FOLDER})")
    parser.add_argument("--seed", metavar="N", default="1", help="another workshop, with another hidden truth")
    parser.add_argument("--json", action="store_true", help="one JSON object for scripts")


def run(args: argparse.Namespace) -> Answer:
    """Do it all; without --json every step is shown as it is done."""
    if not args.seed.isdecimal():
        raise InputRefused.of("--seed", args.seed, "A seed is a whole number.")
    demo = Demo(Path(args.out), int(args.seed))
    steps: list[str] = []
    known: dict[str, str] = {}
    if not args.json:
        print_on_the_way(wrapped(_WORDS))
    for number, step in enumerate(demo.steps(), 1):
        steps.append(step.title)
        if not args.json:
            print_on_the_way("\n".join(_step(number, step, known)))
    if demo.outcome is None:
        raise AssertionError("the demo ended without an outcome")
    return Answer(_json(steps, demo.outcome), "\n".join(_outcome(demo.outcome)))


def _step(number: int, step: DemoStep, known: dict[str, str]) -> Iterator[str]:
    yield f"\n━━ {number}. {step.title} ━━"
    yield wrapped(step.why)
    yield from _told(step, known)


def _told(step: DemoStep, known: dict[str, str]) -> Iterator[str]:
    result = step.result
    if isinstance(result, ShopView):
        fixtures = ", ".join(f"{f.id} ({f.kind})" for f in result.shop.in_use)
        yield wrapped(f"{result.shop.name}: {fixtures}; {len(result.shop.instruments)} instruments.")
        yield wrapped(f"Kept in {result.path}.")
    elif isinstance(result, CheckRun):
        yield from _check(result)
    elif isinstance(result, MoveView):
        yield f"Turned: {result.direction} by {result.typed} in at the screw."
    elif isinstance(result, StandingView):
        yield from _known(result, known)
    elif isinstance(result, PlanView):
        yield plan_words.told(document_of(result))
    elif isinstance(result, ProofView):
        yield from parts_command.told(result)


def _check(result: CheckRun) -> Iterator[str]:
    """What was read, what it says, what comes next; the cautions of a check stand with its steps."""
    yield wrapped("Read: " + " ".join(f"{_name(r.name, r.station)}={r.typed}" for r in result.taken.readings))
    for estimate in result.finding.estimates:
        yield from check_words.estimate_lines(estimate, result.unit, decided=False)
    yield "With all that the book knows:"
    yield from check_words.standing_lines(result.standings, result.unit)


def _known(view: StandingView, known: dict[str, str]) -> Iterator[str]:
    """The first time all that is known, later only what has changed since."""
    for line in view.lines:
        told = wrapped(status_text(line.standing, view.shop.unit), "  ")
        if known.get(line.name) != told:
            known[line.name] = told
            yield told
    yield wrapped("What to do next, and what was never checked here: trued status --book FILE")


def _name(name: str, station: str) -> str:
    return f"{name}@{station}" if station else name


def _outcome(outcome: Outcome) -> Iterator[str]:
    yield "\n━━ What nobody knew ━━"
    really = _fence(outcome.fence_rad, outcome)
    yield f"The fence was really out by {really} in the end."
    if outcome.fence_said is not None:
        x = outcome.fence_said.x
        yield wrapped(f"The tool believed {_fence(x.value, outcome)}; give or take {brief(x.u, 'rad', 'in')}.")
    for name, value, fitted, told in outcome.fits:
        came = "it fits" if fitted else "it does not fit"
        before = f"before the first cut the chance told was {chance_said(told)}"
        yield wrapped(f"{name}: really {shown(value, 'mm', 'in')}, so {came}; {before}.")
    right = outcome.sure - len(outcome.wrong)
    yield wrapped(f"Of {outcome.sure} things that the measured parts made sure, {right} were really so.")
    yield ""
    yield wrapped(f"The book, the shop and job files and the printed sheets lie in {outcome.folder}.")
    yield wrapped(f"Look around in it: trued status --book {outcome.folder / BOOK}")


def _fence(rad: float, outcome: Outcome) -> str:
    limits = outcome.fence_said.limits if outcome.fence_said is not None else None
    return found_said(rad, "rad", "in", limits, "fence-angle")


def _json(steps: list[str], outcome: Outcome) -> Json:
    said = outcome.fence_said
    return {
        "steps": list(steps),
        "fence_rad": outcome.fence_rad,
        "fence_said": {"value": said.x.value, "u": said.x.u} if said is not None else None,
        "fits": [{"name": n, "mm": v, "fitted": f, "chance_told": c} for n, v, f, c in outcome.fits],
        "sure": outcome.sure,
        "wrong": list(outcome.wrong),
        "folder": str(outcome.folder),
    }
