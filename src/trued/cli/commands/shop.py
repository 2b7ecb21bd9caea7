"""`trued shop [SHOP.toml]`: describe the shop, or show what the book holds."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from trued.cli.lines import wrapped
from trued.cli.result import Answer, common, when
from trued.usecases.files.folders import book_path
from trued.usecases.shop.describe_shop import describe_shop


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The shop file and the book."""
    del words
    parser.add_argument(
        "file", nargs="?", metavar="SHOP.toml", help="a file that describes saw, blade, fixtures, instruments"
    )
    common(parser, at=True)


def run(args: argparse.Namespace) -> Answer:
    """Make or change the book, or print the shop."""
    file = Path(args.file) if args.file else None
    view = describe_shop(file, book_path(args.book), at=when(args.at))
    shop = view.shop
    told = view.text
    if args.file and view.path is not None:
        kept = "A new book" if view.made else "The book"
        things = f"{len(shop.in_use)} fixtures, {len(shop.instruments)} instruments"
        told = f"{kept} {view.path} holds {shop.name or 'the shop'}: {things}."
        if view.event is not None:
            told += "\n" + wrapped(f"Another blade. Recheck: {view.event.stale_text}.")
            told += "\n" + wrapped(f"WARNING  {view.event.caution}")
    elif args.file:
        told = f"{view.text}\nThe file is sound. Nothing was kept: name a book with --book to keep it."
    if args.file and view.bans:
        told = "\n".join((*(wrapped(f"WARNING  {text}") for text in view.bans), told))
    return Answer(
        {
            "book": str(view.path) if view.path else None,
            "made": view.made,
            "name": shop.name,
            "unit": shop.unit,
            "saw": shop.saw.id if shop.saw else None,
            "blade": shop.blade.id if shop.blade else None,
            "fixtures": [{"id": f.id, "kind": f.kind, "retired": f.retired} for f in shop.fixtures],
            "instruments": [{"id": i.id, "kind": i.kind} for i in shop.instruments],
            "event": view.event.kind if view.event else None,
            "bans": list(view.bans),
            "text": view.text,
        },
        told,
    )
