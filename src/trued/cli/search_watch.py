"""While layouts are looked for: how far the search is, and Ctrl-C, which ends it and keeps the best so far."""

from __future__ import annotations

import signal
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Protocol

EVERY = 2.0  # seconds between two lines


class Told(Protocol):
    """What a search tells of the best layout of one wood."""

    @property
    def material(self) -> str: ...
    @property
    def cost(self) -> float: ...
    @property
    def bound(self) -> float: ...
    @property
    def unit(self) -> str: ...
    @property
    def pieces(self) -> int: ...


class Watch:
    """Asked and told by the search; says a line on standard error every two seconds where somebody reads it."""

    def __init__(self) -> None:
        self.stopped = False
        self._best: Told | None = None
        self._next = time.monotonic() + EVERY

    def stop(self) -> bool:
        """Whether the search is to end; a line is said in passing when it is time."""
        if time.monotonic() >= self._next and sys.stderr.isatty():
            self._next = time.monotonic() + EVERY
            print(line_of(self._best), file=sys.stderr, flush=True)
        return self.stopped

    def told(self, best: Told) -> None:
        """A cheaper layout was found."""
        self._best = best

    def interrupted(self, number: int, frame: FrameType | None) -> None:
        """The first Ctrl-C ends the search, the next one the program."""
        del number, frame
        if self.stopped:
            raise KeyboardInterrupt
        self.stopped = True


def line_of(best: Told | None) -> str:
    """How far the search is, in one line."""
    if best is None:
        return "Looking for a first layout. Ctrl-C ends it."
    how = "{:.2f}" if best.unit == "price" else "{:.3f} m²"
    wood = f"{best.material}: " if best.material else ""
    pieces = f"{best.pieces} piece{'s' if best.pieces != 1 else ''}"
    return f"{wood}{how.format(best.cost)} so far ({pieces}), at least {how.format(best.bound)}. Ctrl-C keeps the best."


@contextmanager
def watching() -> Iterator[Watch]:
    """Ctrl-C ends the search inside this block and not the program."""
    watch = Watch()
    if threading.current_thread() is not threading.main_thread():
        yield watch
        return
    before = signal.signal(signal.SIGINT, watch.interrupted)
    try:
        yield watch
    finally:
        signal.signal(signal.SIGINT, before)
