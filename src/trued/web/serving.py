"""Serve the site on this computer alone, until the person ends it."""

from __future__ import annotations

import os
import socket
import sys
from collections.abc import Callable
from pathlib import Path

import uvicorn

from trued.errors import InputRefused
from trued.web.app import app

ADDRESS = "127.0.0.1"
SWITCH_S = 0.0005
"""How long one thread may keep the interpreter while another waits (5 ms as Python has it). A page reads its rows in
many small steps, and beside a plan each step waits so long."""
_TRIES = 20
"""Ports that are tried one after the other before any free one is taken."""


def serve(book: Path, port: int, ready: Callable[[str], None]) -> None:
    """Listen at the port, or the next free one; `ready` hears the address as soon as it answers. Ends on Ctrl-C."""
    with listening(port) as listener:
        address = f"http://{ADDRESS}:{listener.getsockname()[1]}/"
        config = uvicorn.Config(
            app(book), log_level="warning", access_log=False, lifespan="off", timeout_graceful_shutdown=2
        )
        sys.setswitchinterval(SWITCH_S)
        ready(address)  # the socket listens already: what is asked from now on is answered
        try:
            uvicorn.Server(config).run(sockets=[listener])
        except KeyboardInterrupt:
            return


def listening(port: int) -> socket.socket:
    """A socket that listens at the first free port from `port` on; InputRefused when none can be had."""
    if not 0 <= port <= 65535:
        raise InputRefused.of("--port", str(port), "A port is a number from 1 to 65535; 0 takes any free one.")
    for candidate in (*range(port, min(port + _TRIES, 65536)), 0):
        made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name != "nt":  # elsewhere it would let two programs share the port
            made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            made.bind((ADDRESS, candidate))
            made.listen(128)
        except OSError:
            made.close()
        else:
            return made
    raise InputRefused.of("--port", str(port), "No port of this computer can be listened at.")
