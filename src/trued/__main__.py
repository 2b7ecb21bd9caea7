"""The program: the command line, with the pages given to it. The one place that knows both surfaces."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from trued.cli.main import main as command_line


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and give its exit status; `trued` and `python -m trued` are this."""
    return command_line(argv, serve=_serve)


def _serve(book: Path, port: int, ready: Callable[[str], None]) -> None:
    from trued.web.serving import serve  # loaded only when the pages are opened

    serve(book, port, ready)


if __name__ == "__main__":
    sys.exit(main())
