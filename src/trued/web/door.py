"""The door to the shop's own network: shut until asked for, one private address, shut again when the program ends."""

from __future__ import annotations

import ipaddress
import socket
import threading
from collections.abc import Iterator
from contextlib import suppress

import uvicorn
from starlette.types import ASGIApp

from trued.errors import InputRefused

HOME_NETWORKS = tuple(ipaddress.ip_network(net) for net in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16"))
"""Addresses that no router of the internet passes on (RFC 1918, 3)."""


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


def private(host: str) -> str:
    """That address, when it is one of a home network; InputRefused for any other."""
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        address = None
    if address is None or not any(address in network for network in HOME_NETWORKS):
        text = "Give this computer's own address in the shop's network: 10…, 172.16… to 172.31… or 192.168…."
        raise InputRefused.of("--lan", host, text)
    return host


def home_addresses() -> tuple[str, ...]:
    """The private addresses of this computer, the one that other computers are reached from first."""
    seen = dict.fromkeys(_routes())
    with suppress(OSError):  # not every computer knows its own name
        found = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
        seen |= dict.fromkeys(str(one[4][0]) for one in found)
    return tuple(host for host in seen if any(ipaddress.ip_address(host) in net for net in HOME_NETWORKS))


def the_address(given: str) -> str:
    """Where phones come in: what was given, else the one private address. InputRefused when there is none or several."""
    if given:
        return private(given)
    found = home_addresses()
    if len(found) == 1:
        return found[0]
    if not found:
        text = "This computer is in no home network. Connect it to the shop's wifi, then try again."
        raise InputRefused.of("--lan", "", text)
    raise InputRefused.of("--lan", "", f"This computer has several addresses. Pick one: {', '.join(found)}.")


def _routes() -> Iterator[str]:
    """From which address this computer would speak to others; nothing is sent."""
    for far in (
        "192.0.2.1",
        "10.255.255.254",
        "172.31.255.254",
        "192.168.255.254",
    ):  # 192.0.2.0/24: RFC 5737, for no one
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
            try:
                asked.connect((far, 9))
            except OSError:
                continue
            yield str(asked.getsockname()[0])


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
