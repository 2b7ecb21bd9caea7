"""`trued restore COPY`: put a copy in the place of the book, which is set aside."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from trued.cli.lines import wrapped
from trued.cli.result import Answer, common
from trued.usecases.book.rescue import restore
from trued.usecases.files.folders import needed_book


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Which copy."""
    del words
    parser.add_argument("copy", metavar="COPY", help="the copy, as trued backup made it; it is only read")
    common(parser)


def run(args: argparse.Namespace) -> Answer:
    """Put it in its place, and say where the old one is."""
    view = restore(Path(args.copy).expanduser(), needed_book(args.book))
    total = sum(n for _, n in view.rows)
    text = [
        wrapped(f"{view.path} is that copy now: every one of its {total} rows was read. What came later is not in it.")
    ]
    if view.aside:
        text += [wrapped(f"What was there is set aside together: {', '.join(str(path) for path in view.aside)}")]
    return Answer(
        {"book": str(view.path), "aside": [str(path) for path in view.aside], "rows": dict(view.rows)},
        "\n".join((*text, "Next: trued status")),
    )
