"""`trued answer ID WORD`: answer what is asked about a row that is kept."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from trued.cli.lines import wrapped
from trued.cli.result import Answer, Json, common
from trued.usecases.changes.answer import AnswerView, answer
from trued.usecases.files.folders import needed_book


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """About what, and the answer."""
    del words
    parser.add_argument("id", metavar="ID", help="the first 6 or more characters of the id of what is asked about")
    parser.add_argument("word", metavar="WORD", help="one of the answers that stand with the question")
    common(parser)


def run(args: argparse.Namespace) -> Answer:
    """Keep it."""
    view = answer(args.id, args.word, needed_book(args.book))
    return Answer(view_json(view), told(view))


def told(view: AnswerView) -> str:
    """What was answered, and how it is taken back."""
    if view.mended:
        return "\n".join((wrapped(f"Kept. {view.mended}"), "Next: trued status"))
    return "\n".join((wrapped(f"Kept: {view.means}."), f"To take it back: trued undo {view.id[:8]}"))


def view_json(view: AnswerView) -> Json:
    """The answer for scripts."""
    return {
        "answer": view.id,
        "about": view.about,
        "question": view.question.code,
        "word": view.word,
        "text": view.means,
        "mended": view.mended,
        "at": view.at.isoformat(),
    }
