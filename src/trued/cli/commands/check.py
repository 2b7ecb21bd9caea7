"""`trued check ID name=value ...`: work out the readings of one procedure."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from trued.cli.lines import example
from trued.cli.result import Answer, Json, common, question_json, when
from trued.cli.text import check as check_words
from trued.cli.text.standing_json import hand_json, standing_json
from trued.errors import InputRefused
from trued.usecases.changes.adjustments import hand_of_move
from trued.usecases.files.folders import book_path
from trued.usecases.runs.run_check import readings_of, run_check
from trued.usecases.runs.taking import CheckRun
from trued.usecases.shop.list_checks import fact_names, is_check, one_check

if TYPE_CHECKING:
    from trued.usecases.views import Estimate, Move, Reading


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The facts that this one check needs become options of their own."""
    id = next((word for word in words if is_check(word)), None)
    parser.add_argument("id", metavar="ID", help="which check; `trued checks` lists them")
    parser.add_argument(
        "readings", nargs="*", metavar="name[@place][:instrument]=value", help="repeat a name to repeat"
    )
    parser.add_argument(
        "--readings", dest="file", metavar="FILE", help="lines name,station,instrument,value; - for input"
    )
    parser.add_argument("--fixture", metavar="ID", help="which fixture of the book")
    parser.add_argument("--unit", choices=("in", "mm"), help="what a bare number means")
    parser.add_argument("--tolerance", metavar="SIZE", help="instead of the usual one, as 0.003in/ft or 0.004")
    parser.add_argument(
        "--more", action="store_true", help="also why: every number, the uncertainty budget, the run's id"
    )
    common(parser, strict=True, at=True, asks=True)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    if id is None:
        return
    check = one_check(id)
    whole = "all" in words
    parser.description = check_words.how_to(check, whole=whole)
    for fact in check.facts:
        parser.add_argument(
            *(f"--{name}" for name in fact_names(check, fact.name)),
            choices=fact.choices or None,
            metavar=None if fact.choices else "VALUE",
            help=fact.text,
        )
    if not whole:  # the procedure alone, as it is needed at the saw
        parser.format_help = lambda: f"{parser.description}\n"  # type: ignore[method-assign]


def run(args: argparse.Namespace) -> Answer:
    """Evaluate, and keep the run when there is a book."""
    check = one_check(args.id)
    facts = {f.name: value for f in check.facts if (value := getattr(args, f.name.replace("-", "_"), None)) is not None}
    typed = list(args.readings) + (readings_of(args.file) if args.file else [])
    if not typed:
        raise InputRefused.of("", "", f"No readings. Example: {example(check.id, check.example.words)}")
    result = run_check(
        args.id,
        typed,
        facts,
        book=book_path(args.book),
        fixture=args.fixture,
        unit=args.unit,
        tolerance=args.tolerance,
        at=when(args.at),
        answers=args.answer,
    )
    out = result.verdict.decision == "proven-out"
    return Answer(as_json(result), check_words.told(result, more=args.more), not_good=out)


_MM = {"in": 25.4, "mm": 1.0}


def _move(move: Move, result: CheckRun) -> Json:
    """A move as it is ordered: with a book by all runs together, so that every surface says the same amount."""
    full = result.full.get(move.feature, move.feature)
    step = next((s.next for s in result.standings if s.feature == full), None)
    if step is None or not step.direction or step.hand is None:
        hand = hand_of_move(move, result.finding.estimates, move.feature, result.unit)
        text, direction, amount_mm = move.text, move.direction, move.amount_mm
    else:
        hand, text, direction = step.hand, step.text, step.direction
        amount_mm = hand.value * _MM[hand.unit] if hand.unit in _MM else None
    return {
        "text": text,
        "where": move.where,
        "direction": direction,
        "amount_mm": amount_mm,
        "hand": hand_json(hand),
    }


def as_json(result: CheckRun) -> Json:
    """The object of the command contract."""
    check, finding = result.check, result.finding
    answer: dict[str, Json] = {
        "check": check.id,
        "version": check.version,
        "run": result.run,
        "readings": [reading_json(r) for r in result.taken.readings],
        "estimates": [estimate_json(e, result.full.get(e.feature, e.feature)) for e in finding.estimates],
        "moves": [_move(move, result) for move in finding.moves],
        "warnings": [{"code": s.code, "act": s.act.value, "text": s.text} for s in finding.seen],
        "cautions": [*check.cautions, *(step.caution for step in check.steps if step.caution)],
    }
    verdict = result.verdict
    answer["confirmed"] = not result.waits
    answer["verdict"] = {
        "is": verdict.says.value,
        "text": verdict.text,
        "do": verdict.do or None,
        "why": list(verdict.why),
        "dangers": list(verdict.dangers),
        "asks": question_json(verdict.question) if verdict.question is not None else None,
    }
    if result.cause is not None:
        cause = result.cause
        answer["cause"] = {"is": cause.cause.value, "text": cause.text, "cheapest": cause.cheapest}
    if result.standings:
        answer["standing"] = [standing_json(s) for s in result.standings]
    return answer


def reading_json(r: Reading) -> Json:
    """One reading: as typed, and as it was understood."""
    return {
        "name": r.name,
        "station": r.station,
        "typed": r.typed,
        _unit_key(r.kind): r.choice or r.value,
        "instrument": r.instrument.id if r.instrument else None,
    }


def estimate_json(e: Estimate, name: str) -> Json:
    """One estimate as the contract has it, under its full name; limits that are open come as null."""
    return {
        "feature": name,
        "value": e.value,
        "u": e.u,
        "unit": e.unit,
        "dof": e.dof,
        "interval95": list(e.interval95),
        "tolerance": [e.limits.low, e.limits.high] if e.limits else None,
        "chance_in": e.chance_in,
        "decision": e.decision.value if e.decision else None,
        "side": e.side.value if e.side else None,
        "runs_to_decide": e.runs_to_decide,
        "scatter_source": e.scatter_source or None,
        "components": [{"label": c.label, "u": c.u} for c in e.components],
    }


_UNIT_KEYS = {"length": "mm", "gap": "mm", "angle": "rad", "temperature": "celsius", "mass": "kg", "force": "newton"}


def _unit_key(kind: str) -> str:
    return _UNIT_KEYS.get(str(kind), "value")
