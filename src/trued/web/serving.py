"""Serve the site on this computer, and at the door to the shop's network while that is open, until it is ended."""

from __future__ import annotations

import os
import socket
import sys
from collections.abc import Callable
from pathlib import Path

import uvicorn

from trued.errors import InputRefused
from trued.web.apart import Apart
from trued.web.app import app
from trued.web.copying import Copying
from trued.web.door import Door, config

ADDRESS = "127.0.0.1"
SWITCH_S = 0.0005
"""How long one thread may keep the interpreter while another waits (5 ms as Python has it). A page reads its rows in
many small steps, and beside a plan each step waits so long."""
_TRIES = 20
"""Ports that are tried one after the other before any free one is taken."""


def serve(book: Path, port: int, ready: Callable[[str, str | None], None], *, lan: str | None = None) -> None:
    """Listen at the port, or the next free one, and with `lan` at that address of the shop's network too.
    `ready` hears the addresses, for this computer and for phones, as soon as they answer. Ends on
    Ctrl-C. InputRefused for a port or an address that cannot be had."""
    apart = Apart()
    site = app(book, apart)
    door: Door = site.state.site.door
    with listening(port) as listener:
        own = listener.getsockname()[1]
        if lan is not None:
            door.open(site, lan, own)
        sys.setswitchinterval(SWITCH_S)
        phones = "http://{}:{}/".format(*door.address) if door.address else None
        copying = Copying(book)
        copying.start()
        ready(f"http://{ADDRESS}:{own}/", phones)  # the socket listens already: what is asked from now on is answered
        try:
            uvicorn.Server(config(site)).run(sockets=[listener])
        except KeyboardInterrupt:
            return
        finally:
            copying.stop()
            apart.stop()
            door.shut()


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
