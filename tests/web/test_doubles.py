"""Forms that no page of ours sends: a name twice, as file and as text; a file for a text; a bomb for a job."""

from __future__ import annotations

import asyncio
import itertools
import time

import httpx
import pytest
from tests.web.asking import HOME, Site

POSTS = ("/jobs", "/moved", "/checks/kerf", "/changed/saw-carried", "/withdraw/x", "/answer/x")


def parts(*given: tuple[str, str | None, bytes]) -> bytes:
    """A multipart body: (name, file name or None, content)."""
    rows = [
        b'--b\r\nContent-Disposition: form-data; name="%s"%s\r\n\r\n%s\r\n'
        % (name.encode(), b"" if file is None else b'; filename="%s"' % file.encode(), content)
        for name, file, content in given
    ]
    return b"".join(rows) + b"--b--\r\n"


def send(site: Site, path: str, body: bytes) -> httpx.Response:
    async def ask() -> httpx.Response:
        async with site._client() as client:
            kind = {"Content-Type": "multipart/form-data; boundary=b", "Origin": HOME}
            return await client.post(path, content=body, headers=kind)

    return asyncio.run(ask())


TEXT, FILE = ("text", None, b"x = 1"), ("text", "job.toml", b"x = 1")


@pytest.mark.parametrize("path", POSTS)
def test_a_name_that_comes_twice(shop: Site, path: str) -> None:
    """As a file first and a text then it was a fault of ours, on every page."""
    for order in itertools.permutations((TEXT, FILE, ("key", None, b"0" * 32)), 3):
        assert send(shop, path, parts(*order)).status_code < 500
    for name in ("file", "key", "text", "unit", "fixture", "answer", "change", "amount"):
        for given in (((name, "f", b"\xff\x00"), (name, None, b"1")), ((name, None, b"1"), (name, "f", b"\xff\x00"))):
            assert send(shop, path, parts(*given)).status_code < 500


def test_two_files_are_no_form_of_ours(shop: Site) -> None:
    assert send(shop, "/jobs", parts(FILE, FILE)).status_code == 400


@pytest.mark.parametrize("field", ["text", "file"])
def test_a_job_that_is_a_bomb_is_refused_at_once(shop: Site, field: str) -> None:
    """60,000 dots held the one lock of the site for half a minute."""
    bomb = b"a" + b".a" * 60_000 + b" = 1"
    before = time.process_time()
    answer = send(shop, "/jobs", parts((field, "job.toml" if field == "file" else None, bomb)))
    assert time.process_time() - before < 10.0  # what runs away took over half a minute; this is no measure of speed
    assert answer.status_code == 422 and "more than 16 dots" in answer.text
