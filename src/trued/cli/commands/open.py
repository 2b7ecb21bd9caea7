"""`trued open`: the pages on this computer, with `--lan` for phones of the shop too, until Ctrl-C."""

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
from trued.usecases.phones.network import the_address
from trued.usecases.phones.pairing import PLAIN_WIFI

PORT = 8765


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Which book, and where to listen."""
    del words
    common(parser)
    parser.add_argument("--demo", action="store_true", help="the demo workshop instead, made now and thrown away after")
    parser.add_argument(
        "--port", default=str(PORT), metavar="PORT", help=f"where to listen (else {PORT}); the next free one if taken"
    )
    parser.add_argument(
        "--lan",
        nargs="?",
        const="",
        metavar="ADDRESS",
        help="let phones in from your own network (ADDRESS: if this computer has several)",
    )


def run(args: argparse.Namespace) -> Answer:
    """Print the address, then serve; the book of the person's own is made when there is none."""
    port, lan = _port(args.port), None if args.lan is None else the_address(args.lan)
    if not args.demo:
        return _open(_book(args.book), port, args.serve, lan, as_json=args.json)
    if args.book is not None:
        raise InputRefused.of("--demo", args.book, "The demo brings a book of its own; leave out --book or --demo.")
    with TemporaryDirectory(prefix="trued-demo-") as folder:
        return _open(_demo(Path(folder)), port, args.serve, lan, as_json=args.json)


def _open(book: Path, port: int, serve: Serve | None, lan: str | None, *, as_json: bool) -> Answer:
    if serve is None:
        raise InputRefused.of("", "", "The pages are opened by the program `trued` itself.")
    told: list[str | None] = []

    def ready(address: str, phones: str | None) -> None:
        told.extend((address, phones))
        # With --json one object comes at the end, so what a person needs now goes beside it.
        print(_opened(address, phones), file=sys.stderr if as_json else sys.stdout, flush=True)

    serve(book, port, ready, lan)
    address, phones = told or (None, None)
    return Answer({"address": address, "phones": phones, "book": str(book)}, "Closed.")


def _opened(address: str, phones: str | None) -> str:
    if phones is None:
        return f"The pages are at {address}\nOnly this computer can see them. Ctrl-C ends it."
    return (
        f"The pages are at {address}\n"
        f"Phones come in at {phones}\n"
        f"Each needs a code once: {address}phones\n"
        f"WARNING: {PLAIN_WIFI}\n"
        "Ctrl-C ends it."
    )


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
