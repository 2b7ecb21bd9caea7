"""`trued checks`: the procedures there are."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from trued.cli.answer import Answer, common
from trued.usecases.list_checks import list_checks


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Only --json."""
    del words
    common(parser, book=False)


def run(args: argparse.Namespace) -> Answer:
    """Every check with what it is for and what it asks."""
    del args
    checks = list_checks()
    text = "\n".join(f"{c.id:<16} {c.minutes:>3.0f} min  {c.title}: {c.purpose}" for c in checks)
    return Answer(
        [
            {
                "id": c.id,
                "version": c.version,
                "title": c.title,
                "purpose": c.purpose,
                "minutes": c.minutes,
                "features": list(c.features),
                "ground": list(c.ground),
                "asks": [ask.name for ask in c.asks],
                "facts": [fact.name for fact in c.facts],
                "example": f"trued check {c.id} {' '.join(c.example.given)}",
            }
            for c in checks
        ],
        text,
    )
