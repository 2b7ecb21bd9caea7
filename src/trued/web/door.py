"""The door to the shop's own network: shut until asked for, one private address, shut again when the program ends."""

from __future__ import annotations

import socket
import threading

import uvicorn
from starlette.types import ASGIApp

from trued.errors import InputRefused
from trued.usecases.phones.network import private


class Door:
    """Opens and shuts; `address` is where phones come in, None while it is shut. For several threads."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._server: uvicorn.Server | None = None
        self._thread: threading.Thread | None = None
        self.address: tuple[str, int] | None = None

    def open(self, app: ASGIApp, host: str, port: int) -> tuple[str, int]:
        """Listen at that private address, at the port or any free one; what is open already stays as it is.

        InputRefused for an address that is not private, or that this computer has not.
        """
        with self._lock:
            if self.address is None:
                listener = _listening(private(host), port)
                self._server = uvicorn.Server(config(app))
                self._thread = threading.Thread(
                    target=self._server.run, kwargs={"sockets": [listener]}, name="door", daemon=True
                )
                self.address = (host, listener.getsockname()[1])
                self._thread.start()
            return self.address

    def shut(self) -> None:
        """Take no phone's request any more; those under way are answered."""
        with self._lock:
            if self._server is not None and self._thread is not None:
                self._server.should_exit = True
                self._thread.join(5)
            self._server = self._thread = self.address = None


def config(app: ASGIApp) -> uvicorn.Config:
    """How the site is served, at home and at the door."""
    return uvicorn.Config(app, log_level="warning", access_log=False, lifespan="off", timeout_graceful_shutdown=2)


def _listening(host: str, port: int) -> socket.socket:
    for candidate in (port, 0):
        made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        try:
            made.bind((host, candidate))
            made.listen(128)
        except OSError:
            made.close()
        else:
            return made
    raise InputRefused.of("--lan", host, f"{host} is no address of this computer now.")
