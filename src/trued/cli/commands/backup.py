"""`trued backup TO`: copy the book and prove that the copy opens."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from trued.cli.result import Answer, common
from trued.usecases.book.back_up import back_up
from trued.usecases.files.folders import needed_book


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Where the copy goes."""
    del words
    parser.add_argument("to", metavar="TO", help="the file to write; one that exists is never overwritten")
    common(parser)


def run(args: argparse.Namespace) -> Answer:
    """Copy and count."""
    view = back_up(needed_book(args.book), Path(args.to))
    total = sum(n for _, n in view.rows)
    return Answer(
        {"copy": str(view.path), "rows": dict(view.rows)},
        f"Copied to {view.path}. The copy was opened and found sound: {total} rows.",
    )
