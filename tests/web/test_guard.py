"""Who may ask: names of this computer only, and forms from our own pages only.

The rules are those of the Fetch standard (Sec-Fetch-Site, Origin) and RFC 9110, 7.4 and 15.5.20 (421, misdirected).
"""

from __future__ import annotations

import pytest
from tests.web.asking import HOME, Site

from trued.usecases.shop.shop_now import opened
from trued.web.guard import names_us

HERE = ("127.0.0.1", 8765)


@pytest.mark.parametrize("host", ["127.0.0.1:8765", "localhost:8765", "LOCALHOST:8765", "[::1]:8765"])
def test_a_name_of_this_computer(host: str, still: Site) -> None:
    assert names_us(host, HERE, at_door=False)
    assert still.get("/checks", Host=host).status_code == 200


def test_the_port_of_http_may_be_left_out() -> None:
    assert names_us("localhost", ("127.0.0.1", 80), at_door=False)
    assert not names_us("localhost", HERE, at_door=False)


@pytest.mark.parametrize(
    "host",
    [
        "rebound.example",
        "rebound.example:8765",
        "192.168.1.7:8765",
        "localhost",
        "localhost:80",
        "127.0.0.1.example",
        "localhost.example:8765",
        "me@127.0.0.1",
        "127.0.0.1/x",
        "127.0.0.1 x",
        "127.0.0.1:port",
        "0.0.0.0:8765",
        "[::1",
        "1.2.3",
        "x" * 500,
    ],
)
def test_a_name_that_is_made_to_mean_this_computer(host: str, still: Site) -> None:
    answer = still.get("/", Host=host)
    assert answer.status_code == 421
    assert "Five" not in answer.text


SENT = [("key", "0" * 32)]


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "https://stranger.example"},
        {"Origin": "null"},
        {"Origin": "http://localhost:3000"},
        {"Origin": "https://127.0.0.1:8765"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_a_form_from_another_page_changes_nothing(headers: dict[str, str], still: Site) -> None:
    assert still.post("/changed/saw-carried", SENT, **headers).status_code == 403
    with opened(still.book) as book:
        assert book.events() == ()


def test_a_form_of_our_own_and_one_from_no_browser(shop: Site) -> None:
    assert shop.post("/changed/saw-carried", SENT).status_code == 303
    plain = shop._ask("POST", "/changed/tilt-used", [("key", "1" * 32)], {})
    assert plain.status_code == 303


def test_a_form_may_not_be_without_end(still: Site) -> None:
    answer = still.post("/jobs", [("text", "x" * 1_100_000)])
    assert answer.status_code == 413


@pytest.mark.parametrize("path", ["/", "/style.css", "/trued.js", "/nowhere", "/runs/x"])
def test_every_answer_forbids_what_is_not_ours(path: str, still: Site) -> None:
    """Nothing inline and nothing from outside may run, and no other page may frame ours (CSP level 3)."""
    headers = still.get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy and "frame-ancestors 'none'" in policy and "unsafe" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"


def test_a_fault_of_ours_shows_no_trace(still: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("inside")

    monkeypatch.setattr("trued.web.pages.home.do_next", broken)
    answer = still.get("/")
    assert answer.status_code == 500
    assert "inside" not in answer.text and "fault of trued" in answer.text
    assert "default-src 'none'" in answer.headers["content-security-policy"]


def test_home_is_the_address_that_is_printed() -> None:
    assert names_us(HOME.removeprefix("http://"), HERE, at_door=False)
