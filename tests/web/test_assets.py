"""Style and script are sent once: RFC 9111 (freshness), RFC 9110, 8.8.3 and 12.5.3 (ETag, Accept-Encoding)."""

from __future__ import annotations

import gzip
import re

import pytest
from tests.web.asking import Site

NAMES = ("style.css", "trued.js")


@pytest.mark.parametrize("name", NAMES)
def test_the_page_names_what_may_be_kept_for_a_year(name: str, still: Site) -> None:
    (address,) = re.findall(rf'"(/{re.escape(name)}\?[0-9a-f]+)"', still.get("/checks").text)
    answer = still.get(address)
    assert "immutable" in answer.headers["cache-control"] and "max-age=31536000" in answer.headers["cache-control"]
    for other in (f"/{name}", f"/{name}?0"):
        assert still.get(other).headers["cache-control"] == "no-cache"
        assert still.get(other).text == answer.text


@pytest.mark.parametrize("name", NAMES)
def test_what_the_browser_has_is_not_sent_again(name: str, still: Site) -> None:
    tag = still.get(f"/{name}").headers["etag"]
    again = still.get(f"/{name}", If_None_Match=tag)
    assert (again.status_code, again.content) == (304, b"")
    assert still.get(f"/{name}", If_None_Match='"other"').status_code == 200


@pytest.mark.parametrize("path", ["/style.css", "/trued.js", "/checks", "/"])
def test_zipped_only_for_who_takes_it(path: str, still: Site) -> None:
    zipped, plain = still.get(path, Accept_Encoding="gzip"), still.get(path, Accept_Encoding="identity")
    assert zipped.headers["content-encoding"] == "gzip" and "content-encoding" not in plain.headers
    assert "accept-encoding" in zipped.headers["vary"].lower()
    assert len(gzip.compress(plain.content)) < 0.5 * len(plain.content)
    assert path in ("/", "/checks") or zipped.text == plain.text  # a page's keys are made anew
