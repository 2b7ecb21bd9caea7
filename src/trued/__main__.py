"""The program: the command line, with the pages given to it. The one place that knows both surfaces."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from trued.cli.main import main as command_line

USUAL = gc.get_threshold()
SELDOM = 100_000  # new objects between two rounds of the collector: loading the libraries makes many, and drops few


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and give its exit status; `trued` and `python -m trued` are this."""
    gc.set_threshold(SELDOM)
    try:
        return command_line(argv, serve=_serve)
    finally:
        gc.set_threshold(*USUAL)


def _serve(book: Path, port: int, ready: Callable[[str, str | None], None], lan: str | None) -> None:
    from trued.web.serving import serve  # loaded only when the pages are opened

    gc.set_threshold(*USUAL)  # the pages stay, and make rubbish as they go
    serve(book, port, ready, lan=lan)


if __name__ == "__main__":
    sys.exit(main())
