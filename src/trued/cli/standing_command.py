"""`trued standing`: what is known now, what to do next."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from trued.cli.answer import Answer, Json, common, moment
from trued.cli.check_words import chance, limits_shown, shown, wrapped
from trued.usecases.folders import needed_book
from trued.usecases.standing import what_stands
from trued.usecases.words import said

if TYPE_CHECKING:
    from trued.units import Unit
    from trued.usecases.standing import Line, StandingView


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The book, and the time to look from."""
    del words
    common(parser, strict=True, at=True)


def run(args: argparse.Namespace) -> Answer:
    """Every feature that was found, then what to do first."""
    view = what_stands(needed_book(args.book), at=moment(args.at) if args.at else None)
    out = any(line.standing.decision == "proven-out" for line in view.lines)
    return Answer(_json(view), told(view), not_good=out)


def told(view: StandingView) -> str:
    """The whole standing for a terminal."""
    unit = view.shop.unit
    lines = [f"{view.shop.name or 'The shop'}, {view.now:%Y-%m-%d %H:%M} UTC", ""]
    if not view.lines:
        lines.append("Nothing was found here yet, so nothing is claimed.")
    for line in view.lines:
        lines += _feature(line, unit)
    if view.do_first:
        lines += ["", "Do first:"]
        lines += [wrapped(f"{n}. {_step(line)}", "  ") for n, line in enumerate(view.do_first, 1)]
    if view.never:
        lines += ["", wrapped(f"Never checked here: {', '.join(f'{f} ({c})' for f, c in view.never)}")]
    lines += [f"Cannot be worked out any more: {text}" for text in view.unread]
    return "\n".join(lines)


def _feature(line: Line, unit: Unit) -> list[str]:
    s = line.standing
    lines = [f"{s.feature}: {shown(s.x.value, s.unit, unit, sign=True)} (give or take {shown(s.x.u, s.unit, unit)})"]
    if s.decision is not None and s.chance_in is not None and s.limits is not None:
        lines.append(f"  {said(s.decision)}; within {limits_shown(s, unit)}: {chance(s.chance_in)}")
    lines += [wrapped(f"in doubt since: {text}", "  ") for text in s.stale]
    return lines


def _step(line: Line) -> str:
    step = line.standing.next
    if step is None:
        return line.name
    why = f" {step.why}" if step.why else ""
    return f"{step.text}{why}"


def _json(view: StandingView) -> Json:
    return {
        "name": view.shop.name,
        "now": view.now.isoformat(),
        "standings": [_line_json(line) for line in view.lines],
        "do_first": [line.standing.feature for line in view.do_first],
        "never_checked": [{"feature": feature, "check": check} for feature, check in view.never],
        "unread": list(view.unread),
    }


def _line_json(line: Line) -> Json:
    s = line.standing
    step: Json = None
    if s.next is not None:
        step = {
            "do": s.next.do.value,
            "text": s.next.text,
            "why": s.next.why,
            "direction": s.next.direction or None,
            "amount": s.next.amount,
            "check": s.next.check or None,
        }
    return {
        "feature": s.feature,
        "unit": s.unit,
        "value": s.x.value,
        "u": s.x.u,
        "dof": s.x.dof,
        "tolerance": [s.limits.low, s.limits.high] if s.limits else None,
        "chance_in": s.chance_in,
        "decision": s.decision.value if s.decision else None,
        "since": s.since.isoformat(),
        "runs": s.runs,
        "stale": list(s.stale),
        "safety": s.safety,
        "blunder": s.blunder or None,
        "next": step,
        "minutes": line.minutes,
    }
