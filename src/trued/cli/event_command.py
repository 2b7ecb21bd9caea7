"""`trued event KIND [SUBJECT]`: record what happened to the shop."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from trued.cli.answer import Answer, common, moment
from trued.usecases.folders import needed_book
from trued.usecases.record_event import list_events, record_event


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The kind, what it happened to, when."""
    del words
    parser.add_argument("kind", metavar="KIND", help="one of the list below")
    parser.add_argument("subject", nargs="?", default="", metavar="SUBJECT", help="the thing it happened to")
    common(parser, at=True)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.epilog = "kinds:\n" + "\n".join(f"  {event.kind:<16} {event.text}" for event in list_events())


def run(args: argparse.Namespace) -> Answer:
    """Keep the event and say what is doubtful now."""
    view = record_event(args.kind, args.subject, needed_book(args.book), at=moment(args.at) if args.at else None)
    event = view.event
    lines = [f"Kept: {event.text}."]
    if event.caution:
        lines.append(f"CAUTION  {event.caution}")
    lines += [f"In doubt now: {event.stale_text}.", f"Still good: {event.good_text}."]
    if view.stale:
        lines.append(f"In this book: {', '.join(view.stale)}.")
    return Answer(
        {
            "event": view.id,
            "kind": event.kind,
            "subject": view.subject,
            "at": view.at.isoformat(),
            "stale": list(view.stale),
            "stale_text": event.stale_text,
            "good_text": event.good_text,
            "cautions": [event.caution] if event.caution else [],
        },
        "\n".join(lines),
    )
