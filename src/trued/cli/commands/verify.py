"""`trued verify`: look through the book from end to end; status 3 with each fault named."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from trued.cli.lines import wrapped
from trued.cli.result import Answer, common
from trued.usecases.book.rescue import VerifyView, verify
from trued.usecases.files.folders import needed_book


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Only the book."""
    del words
    common(parser)


def run(args: argparse.Namespace) -> Answer:
    """Look, and say what was looked at."""
    view = verify(needed_book(args.book))
    return Answer(
        {
            "book": str(view.path),
            "version": view.version,
            "rows": dict(view.rows),
            "standings": view.standings,
            "left_out": list(view.left_out),
        },
        _said(view),
    )


def _said(view: VerifyView) -> str:
    if view.standings is None:
        return wrapped(
            f"The file is sound. It is of the older version {view.version}. The next command that opens it updates it, "
            "and lays a copy beside it first. Then verify again: every row is read."
        )
    total = sum(n for _, n in view.rows)
    worked = f"every one of its {total} rows was read, and {view.standings} standings were computed."
    sound = wrapped(f"The book is sound: {worked}")
    return "\n".join((sound, *(wrapped(f"Can't compute anymore: {one}") for one in view.left_out)))
