"""`trued open`: the pages on this computer, until Ctrl-C."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from trued.cli.lines import harmless
from trued.cli.result import Answer, Serve, common
from trued.errors import InputRefused
from trued.usecases.book.ready_book import ready_book
from trued.usecases.files.folders import book_path, data_folder

PORT = 8765


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Which book, and where to listen."""
    del words
    common(parser)
    parser.add_argument("--demo", action="store_true", help="the demo workshop instead, made now and thrown away after")
    parser.add_argument(
        "--port", default=str(PORT), metavar="PORT", help=f"where to listen (else {PORT}); the next free one if taken"
    )


def run(args: argparse.Namespace) -> Answer:
    """Print the address, then serve; the book of the person's own is made when there is none."""
    port = _port(args.port)
    if not args.demo:
        return _open(_book(args.book), port, args.serve, as_json=args.json)
    if args.book is not None:
        raise InputRefused.of("--demo", args.book, "The demo brings a book of its own; leave out --book or --demo.")
    with TemporaryDirectory(prefix="trued-demo-") as folder:
        return _open(_demo(Path(folder)), port, args.serve, as_json=args.json)


def _open(book: Path, port: int, serve: Serve | None, *, as_json: bool) -> Answer:
    if serve is None:
        raise InputRefused.of("", "", "The pages are opened by the program `trued` itself.")
    told: list[str] = []

    def ready(address: str) -> None:
        told.append(address)
        # With --json one object comes at the end, so what a person needs now goes beside it.
        print(
            f"The pages are at {address}\nOnly this computer can see them. Ctrl-C ends it.",
            file=sys.stderr if as_json else sys.stdout,
            flush=True,
        )

    serve(book, port, ready)
    return Answer({"address": told[0] if told else None, "book": str(book)}, "Closed.")


def _book(given: str | None) -> Path:
    named = book_path(given)
    book = named or data_folder() / "shop.trued"
    made = ready_book(book, make=named is None)
    print(harmless(f"{'A new, empty book' if made else 'The book'}: {book}"), file=sys.stderr, flush=True)
    return book


def _demo(folder: Path) -> Path:
    from trued.usecases.demo.demo import demo_book

    print("Making the demo workshop; this takes a few seconds.", file=sys.stderr, flush=True)
    return demo_book(folder / "shop")


def _port(typed: str) -> int:
    if not typed.isdecimal() or int(typed) > 65535:
        raise InputRefused.of("--port", typed, "A port is a number from 1 to 65535; 0 takes any free one.")
    return int(typed)
