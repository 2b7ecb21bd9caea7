"""Long work in a process of its own: beside it, pages are answered as if nothing else went on."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable
from contextlib import suppress
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any, ParamSpec, TypeVar

from trued.errors import InputRefused, TruedError, one_action, was_kept

P = ParamSpec("P")
T = TypeVar("T")


class Apart:
    """One process for one piece of work after the other; it is started with the first, and ends with this one."""

    def __init__(self) -> None:
        self._turn = threading.Lock()
        self._there: tuple[BaseProcess, Connection] | None = None

    def __call__(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """What `work` gives or raises there; what it kept counts as kept here. All of it must be picklable."""
        with self._turn:
            process, line = self._there = self._there or _started()
            try:
                line.send((work, args, kwargs))
                kept, found, error = line.recv()
            except (EOFError, OSError):
                process.kill()
                self._there = None
                raise InputRefused.of("", "", "The planning was ended from outside. Send it again.") from None
        for what in kept:
            was_kept(what)
        if error is not None:
            raise error
        return found  # type: ignore[no-any-return]

    def stop(self) -> None:
        """End it, whatever it does: what is written, is written in one step or not at all."""
        if self._there is not None:
            process, _ = self._there
            process.kill()
            process.join(5)


def here(work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
    """In this process, as it is."""
    return work(*args, **kwargs)


def _started() -> tuple[BaseProcess, Connection]:
    ours, its = multiprocessing.Pipe()
    begins = multiprocessing.get_context("spawn")  # a fork would copy the locks of the threads here
    process = begins.Process(target=_work, args=(its,), daemon=True)
    process.start()
    its.close()
    return process, ours


def _work(line: Connection) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the one who started this
    if hasattr(os, "nice"):
        os.nice(5)  # who stands at the saw goes first
    threading.Thread(target=_end_with, args=(multiprocessing.parent_process(),), daemon=True).start()
    with suppress(EOFError, OSError):  # the one who started this is gone
        while True:
            line.send(_done(*line.recv()))


def _end_with(parent: BaseProcess | None) -> None:
    """However the one who started this ends, killed or not, this does not stay behind."""
    if parent is not None:
        parent.join()
    os._exit(0)


def _done(
    work: Callable[..., Any], args: tuple[Any, ...], kwargs: dict[str, Any]
) -> tuple[list[str], Any, TruedError | None]:
    with one_action() as kept:
        try:
            return kept, work(*args, **kwargs), None
        except TruedError as error:
            return kept, None, error
