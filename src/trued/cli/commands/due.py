"""`trued due`: what is to be looked at again, and when."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from trued.cli.lines import wrapped
from trued.cli.result import Answer, Json, common, moment
from trued.usecases.files.folders import needed_book
from trued.usecases.standing.do_next import due

if TYPE_CHECKING:
    from trued.usecases.standing.do_next import Due

MOST = 20  # lines on one screen


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The book, and the time to look from."""
    del words
    common(parser, at=True)


def run(args: argparse.Namespace) -> Answer:
    """By date, what is in doubt first."""
    view, found = due(needed_book(args.book), at=moment(args.at) if args.at else None)
    return Answer({"now": view.now.isoformat(), "due": [_json(one) for one in found]}, "\n".join(told(found)))


def told(found: Sequence[Due]) -> Iterator[str]:
    """One line each."""
    if not found:
        yield "Nothing comes due. What is known is looked at again after an event that touches it."
    for one in found[:MOST]:
        when = f"{one.date.astimezone():%Y-%m-%d}" if one.date is not None else "now"
        uses = f" or after {one.uses} sessions" if one.uses is not None else ""
        why = f": {one.doubt}" if one.doubt else ""
        check = one.line.standing.next.check if one.line.standing.next is not None else ""
        yield wrapped(f"{when:<10}  {one.line.name}{uses}{why}{f'. trued check {check}' if check else ''}")
    if len(found) > MOST:
        yield f"{len(found) - MOST} more: --json lists all."


def _json(one: Due) -> Json:
    return {
        "feature": one.line.standing.feature,
        "date": one.date.isoformat() if one.date is not None else None,
        "uses": one.uses,
        "doubt": one.doubt,
    }
