"""`trued status`: how the shop stands, and what to do next."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from trued.cli.lines import wrapped
from trued.cli.result import Answer, Json, common, moment, question_json, question_lines
from trued.cli.text.message import message_lines
from trued.cli.text.standing_json import standing_json
from trued.errors import InputRefused
from trued.usecases.files.folders import needed_book
from trued.usecases.messages.status_message import message_of
from trued.usecases.standing.shop_verdict import shop_verdict
from trued.usecases.standing.standing import what_stands

if TYPE_CHECKING:
    from datetime import datetime

    from trued.usecases.standing.standing import StandingView


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The book, and the time to look from; one feature alone, with its history."""
    del words
    parser.add_argument("feature", nargs="?", metavar="FEATURE", help="the whole history of one, as fence-angle")
    parser.add_argument("--out", metavar="DIR", help="print the sheet of that feature into this folder")
    parser.add_argument("--paper", choices=("letter", "a4"), help="its paper (else by the shop's unit)")
    parser.add_argument("--more", action="store_true", help="every feature with its number, and what comes after")
    common(parser, strict=True, at=True)


def run(args: argparse.Namespace) -> Answer:
    """Every feature that was found, then what to do first; or one feature with its history."""
    at = moment(args.at) if args.at else None
    if args.feature:
        return _one(args, at)
    if args.out or args.paper:
        raise InputRefused.of("FEATURE", "", "A sheet is printed of one feature: name it before --out or --paper.")
    view = what_stands(needed_book(args.book), at=at)
    out = any(line.standing.decision == "proven-out" for line in view.lines)
    return Answer(_json(view), told(view, more=args.more), not_good=out)


def _one(args: argparse.Namespace, at: datetime | None) -> Answer:
    from trued.cli.text.history import history_json, history_told
    from trued.usecases.standing.feature_history import feature_history

    history, sheet = feature_history(args.feature, needed_book(args.book), at=at), None
    if args.out:
        from trued.usecases.standing.history_sheet import write_history

        sheet = write_history(history, Path(args.out), args.paper)
    out = history.standing is not None and history.standing.decision == "proven-out"
    return Answer(history_json(history, sheet), history_told(history, sheet), not_good=out)


def told(view: StandingView, *, more: bool = False) -> str:
    """The whole standing for a terminal: what can hurt someone first, then one thing to do, then what is known."""
    return "\n".join(message_lines(message_of(view), tuple(_foot(view)), more=more))


def _foot(view: StandingView) -> Iterator[str]:
    for line in view.lines:
        if line.standing.unread:
            sure = f"Read and typed right? trued confirm {line.standing.unread[:8]}"
            yield wrapped(f"BAD RUN: {line.name}. It does not count yet. {sure}")
    for question in view.questions:
        yield ""
        yield from question_lines(question, f"trued answer {question.about[:8]}")
    if view.lines:
        yield "Numbers: --more"


def _json(view: StandingView) -> Json:
    verdict = shop_verdict(view)
    return {
        "name": view.shop.name,
        "now": view.now.isoformat(),
        "standings": [{**standing_json(line.standing), "minutes": line.minutes} for line in view.lines],
        "do_first": [line.standing.feature for line in view.do_first],
        "never_checked": [{"check": one.check, "minutes": one.minutes, "safety": one.safety} for one in view.never],
        "unread": list(view.unread),
        "verdict": {"code": verdict.code, "headline": verdict.headline, "text": verdict.told},
        "asks": [question_json(question) for question in view.questions],
    }
