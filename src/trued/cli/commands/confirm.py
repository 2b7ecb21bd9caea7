"""`trued confirm RUN`: say of a run that it was read and typed right."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from trued.cli.commands.answer import told, view_json
from trued.cli.result import Answer, common
from trued.usecases.changes.answer import confirm
from trued.usecases.files.folders import needed_book


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Which run."""
    del words
    parser.add_argument("id", metavar="RUN", help="the first 6 or more characters of the run's id")
    common(parser)


def run(args: argparse.Namespace) -> Answer:
    """Keep it."""
    view = confirm(args.id, needed_book(args.book))
    return Answer(view_json(view), told(view))
