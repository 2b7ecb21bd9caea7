"""The command line: parse, call one use case, show. A command's file is loaded only when it is called."""

from __future__ import annotations

import contextlib
import importlib
import io
import os
import sys
import tempfile
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import TextIO

from trued import __version__
from trued.cli.result import INTERRUPTED, Answer, Parser, Serve, print_answer, print_refusal
from trued.errors import NOTHING_KEPT, AnswerLost, InputRefused, TruedError, kept_all_the_same, one_action

_HELP = {
    "demo": "the whole job in the demo workshop: checks, moves, plan, sheets, parts",
    "open": "the page on this computer",
    "phones": "which phones were let in; remove one",
    "shop": "describe the shop from a file, or show what the book holds",
    "checks": "the measuring procedures",
    "check": "work out the readings of one procedure; with a book, keep them",
    "moved": "record what was really turned",
    "event": "record what happened to the shop",
    "status": "can I cut, and the one thing to do",
    "next": "the one thing to do now",
    "due": "what is to be looked at again, by date",
    "plan": "from the parts to boards, order of cuts, stop settings and fits",
    "cut": "one cut of the open plan, and that it is done",
    "parts": "measured parts: did they come out, will it fit, what it says about the saw",
    "answer": "answer what is asked about a row that is kept",
    "confirm": "say of a run that it was read and typed right",
    "undo": "take back a run, move, event or answer that was typed wrong",
    "backup": "copy the book, and prove that the copy opens",
    "restore": "put a copy in the place of the book, which is set aside",
    "verify": "look through the book from end to end, every row of it",
}
COMMANDS = tuple(_HELP)
_FORMER = {"proof": "parts", "standing": "status", "withdraw": "undo"}
"""Names that commands had; they work as before."""


def main(argv: Sequence[str] | None = None, *, serve: Serve | None = None) -> int:
    """Run one command and give its exit status; `serve` opens the pages, for the command that needs it."""
    words = list(sys.argv[1:] if argv is None else argv)
    as_json = "--json" in words
    _print_anything()
    with one_action() as kept:
        try:
            return _run(words, as_json, serve)
        except AnswerLost as error:
            _let_go(sys.stdout)
            return _refused(error, as_json=False)
        except TruedError as error:
            return _refused(_after(error, kept), as_json=as_json)
        except KeyboardInterrupt:
            return _stopped(kept)
        except BrokenPipeError:
            _let_go(sys.stdout)
            return INTERRUPTED
        except Exception:  # noqa: BLE001 - the last resort: a person gets a sentence, never a traceback
            return _refused(_our_fault(kept), as_json=as_json)


def _stopped(kept: Sequence[str]) -> int:
    """Say that it was stopped, and what is kept; where nobody reads that either, the exit status says it alone."""
    try:
        print(kept_all_the_same(kept) if kept else "Stopped before it was done.", file=sys.stderr, flush=True)
    except OSError:
        _let_go(sys.stderr)
    return INTERRUPTED


def _after(error: TruedError, kept: Sequence[str]) -> TruedError:
    """What was refused after something was kept: that is said, and no longer that nothing was."""
    if not kept:
        return error
    told = " ".join(NOTHING_KEPT.sub("", fault.text) for fault in error.faults)
    return AnswerLost.of("", "", f"{told} {kept_all_the_same(kept)}")


def _refused(error: TruedError, *, as_json: bool) -> int:
    """Print it; where nobody reads it, the exit status says it alone."""
    try:
        status = print_refusal(error, as_json=as_json)
        sys.stdout.flush()
        sys.stderr.flush()
    except OSError:
        _let_go(sys.stdout)
        _let_go(sys.stderr)
        return error.status
    return status


def _let_go(stream: TextIO) -> None:
    """What is still waiting to be written goes nowhere, so that Python's own last flush does not fail on it."""
    with contextlib.suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)


def _run(words: list[str], as_json: bool, serve: Serve | None) -> int:
    if not words or words[0] in ("-h", "--help", "help"):
        return print_answer(Answer(None, _overview()), as_json=False, strict=False)
    if words[0] == "--version":
        return print_answer(Answer(None, f"trued {__version__}"), as_json=False, strict=False)
    if any("\0" in word for word in words):
        raise InputRefused.of("", "", "A word holds a null character; no file and no reading has one.")
    name = _FORMER.get(words[0], words[0])
    if name not in _HELP:
        raise InputRefused.of("", name, f"There is no command {name!r}. The commands: {', '.join(COMMANDS)}.")
    module = importlib.import_module(f"trued.cli.commands.{name}")
    parser = Parser(prog=f"trued {name}", description=_HELP[name][:1].upper() + _HELP[name][1:] + ".")
    module.options(parser, words[1:])
    parser.set_defaults(serve=serve)
    try:
        args = parser.parse_intermixed_args(words[1:])
    except SystemExit:
        sys.stdout.flush()  # of --help: whether it was read is known here, not at Python's own last flush
        raise
    return print_answer(module.run(args), as_json=as_json, strict=getattr(args, "strict", False))


def _print_anything() -> None:
    """A sign that this terminal does not know, or bytes that were no text, are written as \\x…, never a fault."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:  # closed by whoever started this
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115 - until the end
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _overview() -> str:
    lines = [f"  trued {name:<9} {text}" for name, text in _HELP.items()]
    return "\n".join(
        (
            "Is my saw true? Can it make this job? Which cut is next? Did the parts come out?",
            "",
            *lines,
            "",
            "Lengths in any form: 25 3/16, 25-3/16\", 1' 2 1/2\", 636mm. A bare number is in the book's unit, or",
            "inches without a book.",
            "trued COMMAND --help tells more of one command. Exit status: 0 done, 1 out or unlikely to fit (with",
            "--strict), 2 the input was refused, 3 the book was refused.",
            "The saw maker's manual, local rules and licensed trades go before anything said here.",
        )
    )


def _our_fault(kept: Sequence[str]) -> TruedError:
    """What went wrong is written down in a file of its own that nobody else can have laid ready or read."""
    try:
        handle, log = tempfile.mkstemp(prefix="trued-fault-", suffix=".txt")
        with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as file:
            file.write(traceback.format_exc())
        told = f"The details are in {log}."
    except OSError:
        told = "The details could not be written down."
    look = kept_all_the_same(kept) if kept else "Look whether your entry is kept before you enter it again."
    return TruedError.of("", "", f"This is a fault of trued, not of yours. {look} {told}")
