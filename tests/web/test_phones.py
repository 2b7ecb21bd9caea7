"""Phones of the shop's network: let in by a code, held to what they may do, removed; strangers get nowhere.

The rules are those of the Fetch standard (Origin), RFC 6265 (cookies), RFC 9110, 7.4 and 15.5.20 (421), RFC 1918
(addresses of a home network) and ISO/IEC 18004 (the code for the camera, read back by another library).
"""

from __future__ import annotations

import asyncio
import re
import socket
import urllib.error
import urllib.request
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from ipaddress import ip_network
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import httpx
import numpy as np
import pytest
import zxingcpp
from tests.web.asking import HOME, Site

from trued.errors import InputRefused
from trued.usecases.phones import network
from trued.usecases.phones.network import home_addresses, private, the_address
from trued.usecases.phones.phones import list_phones, one_phone, remove
from trued.usecases.shop.shop_now import opened
from trued.web.app import ROUTES
from trued.web.door import Door
from trued.web.guard import Pace
from trued.web.page_context import Site as SiteState

DOOR = ("192.168.7.4", 8765)
AT = f"http://{DOOR[0]}:{DOOR[1]}"
SENT = {"key": "0" * 32}


def state(site: Site) -> SiteState:
    """What the site holds beside its book."""
    app: Any = site.app
    found: SiteState = app.state.site
    return found


@pytest.fixture
def ajar(shop: Site) -> Site:
    """A site whose door is open, as far as it knows; nothing listens."""
    state(shop).door.address = DOOR
    return shop


@dataclass
class Phone:
    """A phone at the door: keeps its cookie and follows no redirect."""

    site: Site
    cookies: dict[str, str] = field(default_factory=dict)

    def ask(
        self, method: str, path: str, form: Mapping[str, str] | None = None, at: str = AT, **headers: str
    ) -> httpx.Response:
        """One request; a form goes with the Origin of the page, as a browser sends it."""
        typed = {name.replace("_", "-"): value for name, value in headers.items() if value}
        if form is not None:
            typed = {"Origin": at, "Content-Type": "application/x-www-form-urlencoded"} | typed
            typed = {name: value for name, value in typed.items() if value != "none"}
        if self.cookies:
            typed["Cookie"] = "; ".join(f"{name}={value}" for name, value in self.cookies.items())

        async def send() -> httpx.Response:
            transport = httpx.ASGITransport(app=self.site.app, client=("192.168.7.20", 50000))  # type: ignore[arg-type]
            async with httpx.AsyncClient(transport=transport, base_url=at) as client:
                content = None if form is None else urlencode(form).encode()
                sent = {name.encode(): value.encode() for name, value in typed.items()}
                return await client.request(method, path, content=content, headers=sent)

        return asyncio.run(send())

    def get(self, path: str, **headers: str) -> httpx.Response:
        """A page."""
        return self.ask("GET", path, None, **headers)

    def post(self, path: str, form: Mapping[str, str] | None = None, **headers: str) -> httpx.Response:
        """A form of a page of ours."""
        return self.ask("POST", path, SENT if form is None else form, **headers)

    def pair(self, code: str, name: str = "Bench phone") -> httpx.Response:
        """Give the code; a phone that is let in keeps the cookie."""
        answer = self.post("/pair", {"code": code, "name": name})
        self.cookies |= dict(answer.cookies)
        return answer


def code_for(site: Site, role: str = "member") -> str:
    """A fresh code, made at the computer."""
    assert site.post("/phones/code", [("role", role)]).status_code == 303
    code = state(site).pairing.code(datetime.now(UTC))
    assert code is not None
    return code.figures


@pytest.fixture
def phone(ajar: Site) -> Phone:
    """A phone that was let in and may measure."""
    made = Phone(ajar)
    assert made.pair(code_for(ajar)).status_code == 303
    return made


# --- the door


def test_the_risk_stands_before_the_switch(shop: Site) -> None:
    text = shop.get("/phones").text
    assert text.index("Someone on your network") < text.index("Let phones in")


def test_unpaired_nothing_is_shown(ajar: Site) -> None:
    stranger = Phone(ajar)
    for route in ROUTES:
        path = re.sub(r"\{[^}]*\}", "1", route.path)
        answer = stranger.get(path)
        if path in ("/pair", "/style.css", "/trued.js"):
            assert answer.status_code == 200
        else:
            assert (answer.status_code, answer.headers["location"], answer.text) == (303, "/pair", "")


def test_unpaired_nothing_is_kept(ajar: Site) -> None:
    stranger = Phone(ajar)
    for route in ROUTES:
        if "POST" in (route.methods or ()) and route.path != "/pair":
            assert stranger.post(re.sub(r"\{[^}]*\}", "1", route.path)).status_code == 403
    with opened(ajar.book) as book:
        assert book.events() == () and book.devices() == ()


def test_looking_uses_no_code_up(ajar: Site) -> None:
    code = code_for(ajar)
    for _ in range(3):
        Phone(ajar).get("/pair")
        Phone(ajar).get(f"/pair?code={code}")
    assert Phone(ajar).pair(code).status_code == 303


def test_one_code_lets_one_phone_in(ajar: Site) -> None:
    code = code_for(ajar)
    first, second = Phone(ajar), Phone(ajar)
    answer = first.pair(code)
    cookie = answer.headers["set-cookie"]
    assert answer.status_code == 303 and answer.headers["location"] == "/"
    assert {"HttpOnly", "Path=/", "SameSite=lax"} <= {
        part.strip() for part in cookie.split(";")
    } and "Secure" not in cookie
    assert first.get("/").status_code == 200
    assert second.pair(code, "Other").status_code == 403 and second.get("/").status_code == 303


def test_five_wrong_codes_kill_the_right_one(ajar: Site) -> None:
    code = code_for(ajar)
    for tried in range(5):
        assert Phone(ajar).pair(f"{(int(code) + 1 + tried) % 10**6:06d}").status_code == 403
    assert Phone(ajar).pair(code).status_code == 429
    assert list_phones(ajar.book) == ()
    assert state(ajar).pairing.code(datetime.now(UTC)) is None


def test_a_name_that_is_taken_leaves_the_code(phone: Phone) -> None:
    code = code_for(phone.site)
    other = Phone(phone.site)
    assert other.pair(code).status_code == 422
    assert other.pair(code, "Tablet").status_code == 303


def test_what_a_phone_records_says_which_phone(phone: Phone) -> None:
    assert phone.post("/changed/saw-carried").status_code == 303
    with opened(phone.site.book) as book:
        assert [event.device for event in book.events()] == [list_phones(phone.site.book)[0].id]


def test_a_reader_may_only_look(ajar: Site) -> None:
    reader = Phone(ajar)
    assert reader.pair(code_for(ajar, "reader")).status_code == 303
    assert reader.get("/checks").status_code == 200
    for route in ROUTES:
        if "POST" in (route.methods or ()):
            assert reader.post(re.sub(r"\{[^}]*\}", "1", route.path)).status_code == 403, route.path


def test_no_phone_lets_another_in_or_removes_one(phone: Phone) -> None:
    id = list_phones(phone.site.book)[0].id
    for path in ("/phones/door", "/phones/shut", "/phones/code", f"/phones/{id}"):
        assert phone.post(path, SENT | {"role": "member"}).status_code == 403
    assert state(phone.site).door.address == DOOR and one_phone(id, phone.site.book).removed is None
    assert phone.get(f"/phones/{id}").headers["location"] == "/phones"
    assert "Bench phone" in phone.get("/phones").text


def test_a_removed_phone_is_out_at_its_next_request(phone: Phone) -> None:
    id = list_phones(phone.site.book)[0].id
    assert phone.site.post(f"/phones/{id}", []).status_code == 303
    assert phone.get("/").headers["location"] == "/pair"
    assert phone.post("/changed/saw-carried").status_code == 403


def test_a_key_of_another_book_opens_nothing(phone: Phone, tmp_path: Path, still: Site) -> None:
    other = Site.of(tmp_path / "other.trued")
    other.book.write_bytes(still.book.read_bytes())
    state(other).door.address = DOOR
    (key,) = phone.cookies.values()
    guess = Phone(other, {**phone.cookies, "trued-00000000": key})
    assert guess.get("/").status_code == 303


@pytest.mark.parametrize("key", ["", "x", "0" * 64, "é", "0" * 5000])
def test_a_guessed_key(key: str, phone: Phone) -> None:
    (name,) = phone.cookies
    assert Phone(phone.site, {name: key}).get("/").status_code == 303


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"Origin": "none"}, 403),
        ({"Origin": "null"}, 403),
        ({"Origin": "http://stranger.example"}, 403),
        ({"Origin": HOME}, 403),
        ({"Origin": f"http://{DOOR[0]}:9999"}, 403),
        ({"Origin": f"https://{DOOR[0]}:{DOOR[1]}"}, 403),
        ({"Sec_Fetch_Site": "cross-site"}, 403),
        ({"Host": "rebound.example"}, 421),
        ({"Host": "192.168.7.5:8765"}, 421),
        ({"Host": "192.168.7.4:9999"}, 421),
        ({"Host": "192.168.7.4"}, 421),
        ({"Host": "127.0.0.1:8765"}, 421),
        ({"Host": "localhost:8765"}, 421),
    ],
)
def test_a_form_from_elsewhere_keeps_nothing(headers: dict[str, str], status: int, phone: Phone) -> None:
    assert phone.post("/changed/saw-carried", **headers).status_code == status
    with opened(phone.site.book) as book:
        assert book.events() == ()


@pytest.mark.parametrize("host", ["192.168.7.4:8765", "192.168.7.5:8765"])
def test_the_doors_name_opens_nothing_at_home(host: str, ajar: Site) -> None:
    assert ajar.get("/", Host=host).status_code == 421


def test_at_home_nothing_changes_while_the_door_is_open(ajar: Site) -> None:
    assert ajar.get("/").status_code == 200
    assert ajar.get("/pair").headers["location"] == "/phones"


def test_no_header_that_a_browser_complains_of(phone: Phone) -> None:
    """Over plain http, but from this computer itself, a browser ignores it and says so on every page (HTML, 7.1.3)."""
    assert "cross-origin-opener-policy" not in phone.get("/").headers
    assert "cross-origin-opener-policy" in phone.site.get("/").headers


def test_a_phone_that_asks_without_end_is_slowed(phone: Phone) -> None:
    answers = [phone.get("/phones").status_code for _ in range(90)]
    assert answers[:50] == [200] * 50 and 429 in answers


def test_the_pace_comes_back() -> None:
    now = [0.0]
    pace = Pace(20, 60, lambda: now[0])
    assert sum(pace.takes("a") for _ in range(100)) == 60 and pace.takes("b")
    now[0] = 1.0
    assert sum(pace.takes("a") for _ in range(100)) == 20


def test_the_code_for_the_camera_reads_back(ajar: Site) -> None:
    code_for(ajar)
    code = state(ajar).pairing.code(datetime.now(UTC))
    assert code is not None
    text = ajar.get("/phones").text
    assert f"{code.figures[:3]} {code.figures[3:]}" in text
    (read,) = zxingcpp.read_barcodes(picture_of(text))
    assert read.text == f"{AT}/pair#{code.secret}" and "QR" in str(read.format)


def picture_of(page: str) -> np.ndarray[Any, np.dtype[np.uint8]]:
    """The drawing of rows of dark runs (`M x y h n m dx dy h n ...`) as grey points."""
    (drawn,) = re.findall(r'<svg[^>]*class="segno".*?</svg>', page, re.DOTALL)
    (path,) = re.findall(r'class="qrline"[^>]* d="([^"]*)"|d="(M[^"]*)"[^>]*class="qrline"', drawn)
    steps = re.findall(r"([Mmh])(-?[\d.]+)(?: ?(-?[\d.]+))?", path[0] or path[1])
    dark = np.full((80, 80), 255, np.uint8)
    x = y = 0.0
    for kind, one, two in steps:
        if kind == "h":
            dark[int(y), int(x) : int(x + float(one))] = 0
            x += float(one)
        else:
            x, y = (float(one), float(two)) if kind == "M" else (x + float(one), y + float(two))
    return np.kron(dark, np.ones((4, 4), np.uint8))


# --- which address


@pytest.mark.parametrize("host", ["10.0.0.1", "172.16.0.1", "172.31.255.254", "192.168.0.1"])
def test_an_address_of_a_home_network(host: str) -> None:
    assert private(host) == host


@pytest.mark.parametrize(
    "host",
    [
        "0.0.0.0",  # noqa: S104 -- refused here
        "127.0.0.1",
        "8.8.8.8",
        "172.32.0.1",
        "169.254.1.1",
        "100.64.0.1",
        "::",
        "::1",
        "shop",
        "",
    ],
)
def test_an_address_that_is_none(host: str) -> None:
    with pytest.raises(InputRefused):
        private(host)


@pytest.mark.parametrize(("found", "said"), [((), "no home network"), (("10.0.0.1", "192.168.0.2"), "several")])
def test_no_address_and_several(found: tuple[str, ...], said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(network, "home_addresses", lambda: found)
    with pytest.raises(InputRefused, match=said):
        the_address("")


def test_the_addresses_of_this_computer_are_private() -> None:
    assert all(private(host) == host for host in home_addresses())


def test_an_address_without_a_route_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As Linux lists it (proc(5), /proc/net/fib_trie)."""
    table = tmp_path / "fib_trie"
    table.write_text("Local:\n           |-- 10.77.0.1\n              /32 host LOCAL\n           |-- 127.0.0.1\n")
    monkeypatch.setattr(network, "_TABLE", table)
    assert "10.77.0.1" in home_addresses() and "127.0.0.1" not in home_addresses()


def test_the_door_really_opens_and_shuts(shop: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    """At another address of this computer, which stands for one of a home network."""
    monkeypatch.setattr(network, "HOME_NETWORKS", (ip_network("127.7.0.0/16"),))
    door: Door = state(shop).door
    host, port = door.open(shop.app, "127.7.0.4", 0)  # type: ignore[arg-type]
    try:
        assert door.open(shop.app, "127.7.0.4", 0) == (host, port)  # type: ignore[arg-type]
        with urllib.request.urlopen(f"http://{host}:{port}/", timeout=10) as answer:
            assert answer.url.endswith("/pair") and b"Let this phone in" in answer.read()
        with pytest.raises(OSError), socket.create_connection(("127.0.0.1", port), timeout=5):
            pass
    finally:
        door.shut()
    with pytest.raises(urllib.error.URLError):
        urllib.request.urlopen(f"http://{host}:{port}/", timeout=5)


def test_an_address_that_this_computer_has_not() -> None:
    with pytest.raises(InputRefused):
        Door().open(Site.of, "192.168.254.253", 0)  # type: ignore[arg-type]


def test_a_phone_removed_in_the_book_is_out_too(phone: Phone) -> None:
    """By the command line, while the pages are open."""
    remove(list_phones(phone.site.book)[0].id, phone.site.book)
    assert phone.get("/").status_code == 303
