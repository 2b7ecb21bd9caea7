"""`trued plan JOB.toml`: from the parts to boards, order of cuts, stop settings and fits."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from trued.cli.result import Answer, common, moment
from trued.cli.search_watch import watching
from trued.cli.text.plan import told
from trued.errors import InputRefused
from trued.usecases.files.folders import book_path
from trued.usecases.files.read_file import read_text
from trued.usecases.plan.document import answer_of, document_of
from trued.usecases.plan.plan_job import EFFORT, plan_job


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The options of the command."""
    del words
    parser.add_argument("job", metavar="JOB.toml", help="the job file")
    parser.add_argument("--shop", metavar="SHOP.toml", help="a shop file, where there is no book")
    parser.add_argument("--kerf", metavar="SIZE", help="how wide the blade cuts, instead of what shop or job say")
    parser.add_argument("--out", metavar="DIR", help="write the sheets into this folder")
    parser.add_argument("--seconds", metavar="N", help="look for better layouts so long, shorter or longer")
    parser.add_argument("--seed", metavar="S", default="1", help="another start of the search (repeatable)")
    parser.add_argument("--effort", metavar="N", help="how many layouts are tried (repeatable)")
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter", help="paper of the sheets")
    parser.add_argument("--unit", choices=("in", "mm"), help="what a bare number means where the job does not say")
    parser.add_argument("--more", action="store_true", help="also every cut with its warnings, sizes and why")
    common(parser, strict=True, at=True)


def run(args: argparse.Namespace) -> Answer:
    """Plan the job, and keep the plan when there is a book."""
    seconds = _seconds(args.seconds)
    usual = EFFORT if seconds is None else LONG
    seed, effort = _whole("--seed", args.seed, 0), usual if args.effort is None else _whole("--effort", args.effort, 1)
    text = read_text(Path(args.job))
    with watching() as watch:
        view = plan_job(
            text,
            book=book_path(args.book) if args.book or not args.shop else None,
            shop=Path(args.shop) if args.shop else None,
            kerf=args.kerf,
            seed=seed,
            effort=effort,
            seconds=seconds,
            out=Path(args.out) if args.out else None,
            paper=args.paper,
            unit=args.unit,
            at=moment(args.at),
            stop=watch.stop,
            told=watch.told,
        )
    plan = document_of(view)
    return Answer(answer_of(plan), told(plan, more=args.more), not_good=view.not_good)


_MOST = 1_000_000
LONG = EFFORT * 4**4
"""The effort where a time is given and no effort: so much that the time decides."""


def _whole(name: str, text: str, least: int) -> int:
    if text.isascii() and text.isdigit() and len(text) < 8 and least <= int(text) <= _MOST:
        return int(text)
    raise InputRefused.of(name, text, f"Write a whole number from {least} to {_MOST}.")


def _seconds(text: str | None) -> float | None:
    if text is None:
        return None
    try:
        seconds = float(text)
    except ValueError:
        seconds = -1.0
    if not 0.0 < seconds <= _MOST:
        raise InputRefused.of("--seconds", text, "Write a number of seconds above 0.")
    return seconds
