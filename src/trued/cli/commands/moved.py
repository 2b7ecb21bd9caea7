"""`trued moved FEATURE DIRECTION AMOUNT`: record what you really moved."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from trued.cli.lines import wrapped
from trued.cli.result import Answer, common, when
from trued.cli.text.standing_json import hand_json
from trued.usecases.changes.record_move import record_move
from trued.usecases.files.folders import needed_book
from trued.usecases.shop.list_checks import one_check


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """What, which way, how far."""
    del words
    parser.add_argument("feature", metavar="FEATURE", help="as fence-angle, or sled.detent-angle@45closed")
    parser.add_argument("direction", metavar="DIRECTION", help="the feature's own word, as open or close")
    parser.add_argument(
        "amount", metavar="AMOUNT", help="at the adjusting point: 0.0054, 1/24turn, or an angle 0.088deg"
    )
    common(parser, at=True, asks=True)


def run(args: argparse.Namespace) -> Answer:
    """Keep the move and say what is believed after it."""
    book, at = needed_book(args.book), when(args.at)
    view = record_move(args.feature, args.direction, args.amount, book, at=at, answers=args.answer)
    text = f"Recorded: {view.order.removeprefix('move the ')}, {view.said}.\n"
    action = view.standing.next if view.standing is not None else None
    if action is not None and action.do == "measure" and action.check:
        text += f"Next: trued check {action.check} ({one_check(action.check).minutes:.0f} min)\n"
    elif action is not None:
        text += f"{wrapped(f'Next: {action.text} {action.why}'.rstrip())}\n"
    text += f"Undo: trued undo {view.id[:8]}"
    return Answer(
        {
            "move": view.id,
            "feature": view.feature,
            "direction": view.direction,
            "typed": view.typed,
            "amount": view.amount,
            "unit": view.unit,
            "at": view.at.isoformat(),
            "next": view.standing.next.text if view.standing and view.standing.next else None,
            "hand": hand_json(view.hand),
        },
        text,
    )
