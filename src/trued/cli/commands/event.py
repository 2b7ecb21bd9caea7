"""`trued event KIND [SUBJECT]`: record what happened to the shop."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence

from trued.cli.lines import wrapped
from trued.cli.result import Answer, Json, common, when
from trued.usecases.changes.record_event import EventView, list_events, record_event
from trued.usecases.files.folders import needed_book
from trued.words.figures import short_name


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The kind, what it happened to, when."""
    del words
    parser.add_argument("kind", metavar="KIND", help="one of the list below")
    parser.add_argument(
        "subject",
        nargs="?",
        default="",
        metavar="SUBJECT",
        help="the thing of your shop it happened to, as sled; else all that it can mean",
    )
    common(parser, at=True, asks=True)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.epilog = "kinds:\n" + "\n".join(f"  {event.kind:<16} {event.text}" for event in list_events())


def run(args: argparse.Namespace) -> Answer:
    """Keep the event and say what to recheck."""
    view = record_event(args.kind, args.subject, needed_book(args.book), at=when(args.at), answers=args.answer)
    return Answer(_json(view), "\n".join(told(view)))


def told(view: EventView) -> Iterator[str]:
    """What can hurt someone now, what to recheck by the trade and in this book, and what is still good."""
    event = view.event
    yield f"Recorded: {event.text}{f' ({view.subject})' if view.subject else ''}."
    yield ""
    if event.caution:
        yield wrapped(f"WARNING  {event.caution}")
    for id, minutes in view.check_now:
        yield f"  Check it now: trued check {id} ({minutes:.0f} min)"
    yield wrapped(f"Recheck: {event.stale_text}.")
    yield wrapped(f"Still good: {event.good_text}.")
    if view.stale:
        names = ", ".join(dict.fromkeys(short_name(name) for name in view.stale))
        yield wrapped(f"In your shop: {names}. Next: trued status")
    yield f"Undo: trued undo {view.id[:8]}"


def _json(view: EventView) -> Json:
    event = view.event
    return {
        "event": view.id,
        "kind": event.kind,
        "subject": view.subject,
        "at": view.at.isoformat(),
        "stale": list(view.stale),
        "stale_text": event.stale_text,
        "good_text": event.good_text,
        "cautions": [event.caution] if event.caution else [],
    }
