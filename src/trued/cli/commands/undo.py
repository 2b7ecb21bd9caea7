"""`trued undo [ID]`: take back what was typed wrong; without an id, what was kept last."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from trued.cli.lines import wrapped
from trued.cli.result import Answer, Json, common
from trued.usecases.changes.undo import Kept, last_kept, take_back
from trued.usecases.files.folders import needed_book


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Which one."""
    del words
    parser.add_argument(
        "id", nargs="?", metavar="ID", help="the first 8 characters of its id; without one, the last rows are listed"
    )
    common(parser)


def run(args: argparse.Namespace) -> Answer:
    """Take it back, or list what can be."""
    book = needed_book(args.book)
    if args.id is None:
        kept = last_kept(book)
        return Answer({"kept": [_json(one) for one in kept]}, _listed(kept))
    was = take_back(args.id, book)
    text = f"Taken back: {was.text}. It stays in the book, and does not count. Next: trued status"
    return Answer({"taken_back": _json(was)}, wrapped(text))


def _listed(kept: Sequence[Kept]) -> str:
    if not kept:
        return "Nothing is kept yet, so there is nothing to take back."
    rows = [wrapped(f"{one.id[:8]}  {one.at.astimezone():%Y-%m-%d %H:%M}  {one.text}", "  ") for one in kept]
    return "\n".join(("Kept last, the newest first:", *rows, f"To take one back: trued undo {kept[0].id[:8]}"))


def _json(one: Kept) -> Json:
    return {"id": one.id, "kind": one.kind, "at": one.at.isoformat(), "text": one.text}
