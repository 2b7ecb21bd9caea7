"""`trued next`: the one thing to do now."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from trued.cli.lines import wrapped
from trued.cli.result import Answer, Json, common, moment, question_lines
from trued.cli.text.cut import cut_lines
from trued.usecases.changes.adjustments import amount_to_type
from trued.usecases.files.folders import needed_book
from trued.usecases.runs.asked_with import at_angle
from trued.usecases.standing.do_next import do_next

if TYPE_CHECKING:
    from trued.usecases.standing.do_next import DoNext
    from trued.usecases.standing.standing import Line


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The book, and the time to look from."""
    del words
    common(parser, at=True)


def run(args: argparse.Namespace) -> Answer:
    """Work it out and say it on one screen."""
    found = do_next(needed_book(args.book), at=moment(args.at) if args.at else None)
    return Answer(_json(found), "\n".join(told(found)))


def told(found: DoNext) -> Iterator[str]:
    """A line or two, and how to record it."""
    view = found.view
    if view.bans:
        yield wrapped(f"Do not cut. {' '.join(view.bans)}")
    if found.question is not None:
        yield from question_lines(found.question, f"trued answer {found.question.about[:8]}")
    elif found.line is not None:
        yield from _step(found.line)
    elif found.check is not None:
        yield wrapped(f"Check {found.check.title.partition(':')[0].lower()}: never checked here, and it can hurt you.")
        yield wrapped(f"trued check {found.check.check} --help  ({found.check.minutes:.0f} min)", "  ")
    elif found.plan is not None and found.ticket is not None:
        yield from cut_lines(found.plan, found.ticket)
    elif found.what == "begin":
        yield "Nothing is known yet. Begin with the blade to the slot."
        yield "  trued check blade-parallel --help  (15 min)"
    elif found.what == "nothing":
        yield "Nothing is to be done now: no problem found in what was checked. trued due says what comes next."


def _step(line: Line) -> Iterator[str]:
    standing = line.standing
    step = standing.next
    if step is None:
        return
    yield wrapped(f"{', '.join((line.name, *line.also))}: {step.text}")
    amount = amount_to_type(standing)
    if step.direction and amount:
        yield wrapped(f"Record it: trued moved {standing.feature} {step.direction} {amount}", "  ")
        yield wrapped(f"Then: trued check {step.check}{at_angle(standing.feature)}  ({line.minutes:.0f} min)", "  ")
    elif step.check:
        yield wrapped(f"trued check {step.check}{at_angle(standing.feature)} --help  ({line.minutes:.0f} min)", "  ")


def _json(found: DoNext) -> Json:
    line, ticket = found.line, found.ticket
    step = line.standing.next if line is not None else None
    return {
        "next": found.what,
        "text": "\n".join(told(found)),
        "feature": line.standing.feature if line is not None else None,
        "check": found.check.check if found.check is not None else step.check if step is not None else None,
        "plan": found.plan.line.id if found.plan is not None else None,
        "ticket": ticket.id if ticket is not None else None,
        "about": found.question.about if found.question is not None else None,
    }
