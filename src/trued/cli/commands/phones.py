"""`trued phones [--remove ID]`: which phones were let in, and taking one out."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from trued.cli.lines import wrapped
from trued.cli.result import Answer, Json, common
from trued.usecases.files.folders import needed_book
from trued.usecases.phones.phones import Phone, list_phones, remove


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Which one is taken out."""
    del words
    parser.add_argument("--remove", metavar="ID", help="remove the phone whose id begins so")
    common(parser)


def run(args: argparse.Namespace) -> Answer:
    """List them, or remove one."""
    book = needed_book(args.book)
    if args.remove is not None:
        phone = remove(args.remove, book)
        return Answer({"removed": _json(phone)}, wrapped(f"{phone.name} is removed. What it recorded stays."))
    phones = list_phones(book)
    return Answer({"phones": [_json(phone) for phone in phones]}, _listed(phones))


def _listed(phones: Sequence[Phone]) -> str:
    if not phones:
        return "No phone was let in yet. Next: trued open --lan"
    rows = [wrapped(f"{_beginning(one, phones)}  {one.name}: {one.may}", "  ") for one in phones]
    return "\n".join(("Phones:", *rows, "To remove one: trued phones --remove ID"))


def _beginning(one: Phone, phones: Sequence[Phone]) -> str:
    """As much of its id as no other shares, 8 letters at least."""
    length = 8
    while sum(other.id.startswith(one.id[:length]) for other in phones) > 1:
        length += 1
    return one.id[:length]


def _json(phone: Phone) -> Json:
    return {
        "id": phone.id,
        "name": phone.name,
        "role": phone.role,
        "removed": phone.removed.isoformat() if phone.removed else None,
    }
