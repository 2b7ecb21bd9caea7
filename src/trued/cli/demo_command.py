"""`trued demo`: the whole job in the demo workshop, each figure in plain words."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path

from trued.cli import check_words, plan_words, proof_command
from trued.cli.answer import Answer, Json
from trued.cli.standing_command import told as told_standing
from trued.errors import InputRefused
from trued.usecases.demo import DEFAULT_FOLDER, Demo, DemoStep, Outcome
from trued.usecases.describe_shop import ShopView
from trued.usecases.plan_view import PlanView
from trued.usecases.prove import ProofView
from trued.usecases.record_move import MoveView
from trued.usecases.run_check import CheckRun
from trued.usecases.standing import StandingView


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
    steps = []
    for number, step in enumerate(demo.steps(), 1):
        steps.append(step.title)
        if not args.json:
            print("\n".join(_step(number, step)))
    if demo.outcome is None:
        raise AssertionError("the demo ended without an outcome")
    return Answer(_json(steps, demo.outcome), "\n".join(_outcome(demo.outcome)))


def _step(number: int, step: DemoStep) -> Iterator[str]:
    yield f"\n━━ {number}. {step.title} ━━"
    yield check_words.wrapped(step.why)
    yield from _told(step)


def _told(step: DemoStep) -> Iterator[str]:
    result = step.result
    if isinstance(result, ShopView):
        fixtures = ", ".join(f"{f.id} ({f.kind})" for f in result.shop.in_use)
        yield f"{result.shop.name}: {fixtures}; {len(result.shop.instruments)} instruments. Kept in {result.path}."
    elif isinstance(result, CheckRun):
        yield check_words.wrapped(
            "Read: " + " ".join(f"{_name(r.name, r.station)}={r.typed}" for r in result.taken.readings)
        )
        for estimate in result.finding.estimates:
            yield from check_words.estimate_lines(estimate, "in")
        yield from (check_words.wrapped(f"NOTE  {s.text}") for s in result.finding.seen if s.code != "ground")
        yield from (check_words.wrapped(check_words.standing_line(s)) for s in result.standings)
    elif isinstance(result, MoveView):
        yield f"Turned: {result.direction} by {result.typed} in at the screw."
    elif isinstance(result, StandingView):
        yield told_standing(result)
    elif isinstance(result, PlanView):
        yield plan_words.told(result)
    elif isinstance(result, ProofView):
        yield from proof_command.told(result)


def _name(name: str, station: str) -> str:
    return f"{name}@{station}" if station else name


def _outcome(outcome: Outcome) -> Iterator[str]:
    yield "\n━━ What nobody knew ━━"
    yield f"The fence was really out by {check_words.shown(outcome.fence_rad, 'rad', 'in', sign=True)} in the end."
    if outcome.fence_said is not None:
        x = outcome.fence_said.x
        said = check_words.shown(x.value, "rad", "in", sign=True)
        yield f"The tool believed {said}, give or take {check_words.shown(x.u, 'rad', 'in')}."
    for name, value, fitted, told in outcome.fits:
        came = "it fits" if fitted else "it does not fit"
        size = check_words.shown(value, "mm", "in", sign=True)
        yield f"{name}: really {size}, so {came}; before the first cut the chance told was {check_words.chance(told)}."
    yield f"Everything lies in {outcome.folder}: the book, the shop and job files, and the printed sheets in sheets/."


def _json(steps: list[str], outcome: Outcome) -> Json:
    said = outcome.fence_said
    return {
        "steps": list(steps),
        "fence_rad": outcome.fence_rad,
        "fence_said": {"value": said.x.value, "u": said.x.u} if said is not None else None,
        "fits": [{"name": n, "mm": v, "fitted": f, "chance_told": c} for n, v, f, c in outcome.fits],
        "folder": str(outcome.folder),
    }
