"""A browser without a browser: asks the site in this process, as a page of ours would."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urlencode

import httpx

from trued.web.app import app

HOME = "http://127.0.0.1:8765"
Pairs = Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Site:
    """The site of one book. Redirects are not followed."""

    book: Path
    app: object

    @classmethod
    def of(cls, book: Path) -> Site:
        """A site that has just been opened."""
        return cls(book, app(book))

    def get(self, path: str, **headers: str) -> httpx.Response:
        """A page."""
        return self._ask("GET", path, None, headers)

    def post(self, path: str, pairs: Pairs, **headers: str) -> httpx.Response:
        """A form, as a browser sends it from a page of ours."""
        ours = {"Origin": HOME, "Sec-Fetch-Site": "same-origin"}
        return self._ask("POST", path, pairs, ours | headers)

    def upload(self, path: str, data: Mapping[str, str], files: Mapping[str, tuple[str, bytes]]) -> httpx.Response:
        """A form with a file."""

        async def ask() -> httpx.Response:
            async with self._client() as client:
                return await client.post(path, data=dict(data), files=dict(files), headers={"Origin": HOME})

        return asyncio.run(ask())

    def _ask(self, method: str, path: str, pairs: Pairs | None, headers: Mapping[str, str]) -> httpx.Response:
        async def ask() -> httpx.Response:
            typed = {name.replace("_", "-"): value for name, value in headers.items()}
            content = None if pairs is None else urlencode(pairs).encode()
            if content is not None:
                typed["Content-Type"] = "application/x-www-form-urlencoded"
            async with self._client() as client:
                return await client.request(method, path, content=content, headers=typed)

        return asyncio.run(ask())

    def _client(self) -> httpx.AsyncClient:
        transport = httpx.ASGITransport(app=self.app, raise_app_exceptions=False)  # type: ignore[arg-type]
        return httpx.AsyncClient(transport=transport, base_url=HOME)


class Inputs(HTMLParser):
    """The fields of a page's form with what stands in them, and the tags of the page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.pairs: list[tuple[str, str]] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note the tag; of a form's inputs what a browser would send."""
        given = dict(attrs)
        self.tags.append((tag, given))
        name = given.get("name")
        if tag == "input" and name and given.get("type") != "file":
            if given.get("type") in ("radio", "checkbox") and "checked" not in given:
                return
            self.pairs.append((name, given.get("value") or ""))

    def value(self, name: str) -> str:
        """What stands in the first field of that name."""
        return next(value for found, value in self.pairs if found == name)

    def filled(self, typed: Mapping[str, Sequence[str]]) -> list[tuple[str, str]]:
        """The form as it is sent after something was typed into its fields."""
        left = {name: list(values) for name, values in typed.items()}
        pairs = []
        for name, value in self.pairs:
            pairs.append((name, left[name].pop(0) if left.get(name) else value))
        unknown = {name: values for name, values in left.items() if values}
        return pairs + [(name, value) for name, values in unknown.items() for value in values]


def words(page: str) -> str:
    """What is read on the page."""
    return " ".join(re.sub(r"<[^>]+>", " ", page).replace("&#39;", "'").split())
