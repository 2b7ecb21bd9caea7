"""Which addresses of this computer lie in a home network: phones may come in there and nowhere else."""

from __future__ import annotations

import ipaddress
import re
import socket
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from trued.errors import InputRefused

HOME_NETWORKS = tuple(ipaddress.ip_network(net) for net in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16"))
"""Addresses that no router of the internet passes on (RFC 1918, 3)."""
_TABLE = Path("/proc/net/fib_trie")
_LOCAL = re.compile(r"\|-- ([0-9.]+)\n +/32 host LOCAL")


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
    with suppress(OSError):  # of a network without a way out no route tells; Linux lists its own addresses here
        seen |= dict.fromkeys(_LOCAL.findall(_TABLE.read_text(encoding="ascii")))
    return tuple(host for host in seen if any(ipaddress.ip_address(host) in net for net in HOME_NETWORKS))


def the_address(given: str) -> str:
    """Where phones come in: what was given, else the one private address. InputRefused for none, or several."""
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
