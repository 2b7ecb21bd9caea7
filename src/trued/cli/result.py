"""What a command answers: values for scripts, plain words for people, an exit status."""

from __future__ import annotations

import argparse
import json
import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import NoReturn

from trued.cli.lines import harmless
from trued.errors import AnswerLost, Asks, InputRefused, Question, TruedError

DONE, NOT_GOOD, INTERRUPTED = 0, 1, 130
TYPED_TO = timedelta(minutes=1)  # a time is typed to the minute

Serve = Callable[[Path, int, Callable[[str, str | None], None], str | None], None]
"""Serves the pages of a book from a port on, and with an address of the shop's network to phones there; tells both
addresses once they can be reached, and returns when it is ended."""

Json = None | bool | int | float | str | list["Json"] | dict[str, "Json"]


@dataclass(frozen=True, slots=True)
class Answer:
    """`json` is printed with --json, `text` without. `not_good`: exit 1 when --strict was given."""

    json: Json
    text: str
    not_good: bool = False


def print_answer(answer: Answer, *, as_json: bool, strict: bool) -> int:
    """Print it and give the exit status. AnswerLost: it cannot be written; what was kept is kept, and is named."""
    import sys

    try:
        print(dump(formatted(answer.json)) if as_json else harmless(answer.text))
        sys.stdout.flush()
    except BrokenPipeError:
        raise  # nobody wants to read on
    except OSError as error:
        text = f"The answer could not be written ({error.strerror or error}). {_done(answer)}"
        raise AnswerLost.of("", "", text) from None
    return NOT_GOOD if strict and answer.not_good else DONE


def print_on_the_way(text: str) -> None:
    """What is told before the answer; AnswerLost when it cannot be written, for what is done by then stays done."""
    try:
        print(harmless(text), flush=True)
    except BrokenPipeError:
        raise
    except OSError as error:
        lost = f"It could not be written what is being done ({error.strerror or error}). Look before you do it again."
        raise AnswerLost.of("", "", lost) from None


_ROWS = ("run", "move", "event", "plan", "answer")
"""Where an answer names the row that was kept."""


def _done(answer: Answer) -> str:
    if answer.json is None:
        return ""
    told = answer.json if isinstance(answer.json, dict) else {}
    for kind in _ROWS:
        id = told.get(kind)
        if isinstance(id, str) and len(id) == 32:
            return f"It was done all the same and is kept, as {kind} {id}: do not enter it again."
    return "What was asked was done all the same: look before you do it again."


def print_refusal(error: TruedError, *, as_json: bool) -> int:
    """One object on stdout for scripts, or the sentences on stderr for people."""
    import sys

    if as_json:
        faults: list[Json] = [{"where": f.where, "read": f.read, "text": f.text} for f in error.faults]
        if isinstance(error, Asks):
            faults = [{"where": "", "read": "", "code": "asks", **question_json(one)} for one in error.questions]
        print(dump(formatted({"error": {"status": error.status, "faults": faults}})))
    elif isinstance(error, Asks):
        asked = "\n".join(line for one in error.questions for line in question_lines(one, "--answer"))
        print(harmless(asked), file=sys.stderr)
    else:
        print(harmless(str(error)), file=sys.stderr)
    return error.status


FORMAT = 2
"""Of the objects that --json prints: keys are only added under it; it rises when one changes or goes."""


def formatted(value: Json) -> Json:
    """The object with its format, which stands first."""
    return {"format": FORMAT, **value} if isinstance(value, dict) else value


def question_json(question: Question) -> dict[str, Json]:
    """A question for scripts."""
    choices: list[Json] = [{"word": word, "text": text} for word, text in question.choices]
    return {"question": question.code, "about": question.about or None, "text": question.text, "choices": choices}


def question_lines(question: Question, before: str) -> list[str]:
    """A question for people: one line a choice, `before` what is typed before its word."""
    widest = max(len(word) for word, _ in question.choices)
    return [question.text, *(f"  {before} {word:<{widest}}  {text}" for word, text in question.choices)]


def dump(value: Json) -> str:
    """JSON with plain numbers: what is infinite or not a number becomes null. In ASCII, which any terminal carries."""
    return json.dumps(_finite(value), allow_nan=False)


def _finite(value: Json) -> Json:
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, list):
        return [_finite(item) for item in value]
    if isinstance(value, dict):
        return {key: _finite(item) for key, item in value.items()}
    return value


class Parser(argparse.ArgumentParser):
    """A parser that refuses bad usage the way all bad input is refused."""

    def error(self, message: str) -> NoReturn:
        """One sentence instead of a usage dump."""
        sentence = message[:1].upper() + message[1:].rstrip(".")
        raise InputRefused.of("", "", f"{sentence}. See {self.prog} --help.")


def common(
    parser: argparse.ArgumentParser, *, book: bool = True, strict: bool = False, at: bool = False, asks: bool = False
) -> None:
    """The options that many commands share."""
    if book:
        parser.add_argument("--book", metavar="FILE", help="the shop's book (else $TRUED_BOOK)")
    parser.add_argument("--json", action="store_true", help="one JSON object for scripts")
    if strict:
        parser.add_argument("--strict", action="store_true", help="exit 1 when something is out or will not fit")
    if at:
        parser.add_argument("--at", metavar="TIME", help="when it happened, as 2026-05-04T14:30 (else now)")
    if asks:
        parser.add_argument(
            "--answer", metavar="WORD", action="append", default=[], help="your answer to what this command asked"
        )


def when(text: str | None) -> datetime | None:
    """The time at which something was done, None for now; what is still to come was not done yet."""
    if text is None:
        return None
    at, now = moment(text), datetime.now(UTC)
    if at > now + TYPED_TO:
        clock = f"{now.astimezone():%Y-%m-%d %H:%M}"
        told = (
            f"That is still to come: by this computer's clock it is {clock}. Write when it was done, or set the clock."
        )
        raise InputRefused.of("--at", text, told)
    return min(at, now)


def moment(text: str | None) -> datetime:
    """The time that was typed, else now; a time without a zone is this computer's own."""
    if text is None:
        return datetime.now(UTC)
    try:
        at = datetime.fromisoformat(text)
        if at.tzinfo is None:
            _said_once(text, at)
        return at.astimezone(UTC)
    except (ValueError, OverflowError):
        raise InputRefused.of("--at", text, "Write the time as 2026-05-04T14:30.") from None


def _said_once(text: str, at: datetime) -> None:
    """InputRefused for a time of the clocks' change: one that comes twice, or one that is left out."""
    first, second = at.replace(fold=0).astimezone(), at.replace(fold=1).astimezone()
    if first.utcoffset() == second.utcoffset():
        return
    one, other = (
        f"{moment.replace(tzinfo=None).isoformat(timespec='minutes')}{moment:%z}" for moment in (first, second)
    )
    if first.replace(tzinfo=None) == second.replace(tzinfo=None):
        told = f"That hour comes twice, as the clocks are set back. Write {one} for the first, {other} for the second."
    else:
        told = f"That hour is left out, as the clocks are set forward. Write {other} or {one}."
    raise InputRefused.of("--at", text, told)
