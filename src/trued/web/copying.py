"""While the pages are open: a copy of the book each day, and a line where none could be made."""

from __future__ import annotations

import sys
import threading
from datetime import UTC, datetime
from pathlib import Path

from trued.errors import TruedError
from trued.usecases.book.daily_copy import daily_copy

_LOOK_AGAIN_S = 3600.0


class Copying:
    """Looks each hour whether a day has begun, until it is stopped."""

    def __init__(self, book: Path) -> None:
        self._book, self._ended = book, threading.Event()
        self._told = ""
        self._thread = threading.Thread(target=self._run, name="copies", daemon=True)

    def start(self) -> None:
        """Begin; the first copy is made beside the first pages."""
        self._thread.start()

    def stop(self) -> None:
        """End; a copy that is being made is finished or goes."""
        self._ended.set()
        self._thread.join(10)

    def _run(self) -> None:
        while True:
            try:
                daily_copy(self._book, datetime.now(UTC))
                self._told = ""
            except (TruedError, OSError) as error:
                if str(error) != self._told:  # once, not each hour
                    self._told = str(error)
                    sys.stderr.write(f"No copy of the book was made today. {error}\n")
            if self._ended.wait(_LOOK_AGAIN_S):
                return
