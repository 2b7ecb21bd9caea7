"""`trued checks`: the procedures there are."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from trued.cli.lines import example
from trued.cli.result import Answer, Json, common
from trued.usecases.shop.list_checks import list_checks

if TYPE_CHECKING:
    from trued.usecases.views import Check


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Only --json."""
    del words
    common(parser, book=False)


def run(args: argparse.Namespace) -> Answer:
    """Every check with what it is for and what it asks."""
    del args
    checks = list_checks()
    lines = (f"{c.id:<16} {c.minutes:>3.0f} min  {c.title}" for c in checks)
    text = "\n".join([*lines, "", "How one is done: trued check ID --help"])
    return Answer({"checks": [_json(check) for check in checks]}, text)


def _json(check: Check) -> Json:
    return {
        "id": check.id,
        "version": check.version,
        "title": check.title,
        "purpose": check.purpose,
        "minutes": check.minutes,
        "features": list(check.names),
        "ground": list(check.ground),
        "asks": [ask.name for ask in check.asks],
        "facts": [fact.name for fact in check.facts],
        "example": example(check.id, check.example.words),
    }
