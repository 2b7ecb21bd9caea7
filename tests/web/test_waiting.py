"""Who waits for whom: a page that only shows for nobody, a form for another form, and none of them for a plan."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import httpx
import pytest
from tests.web.asking import Site

PAGES = ("/", "/checks", "/checks/kerf", "/standing/sled.fence-angle@0", "/jobs", "/moved", "/withdraw")
SIZES = "length = {}\nwidth = 3\nthickness = 0.75\n"
JOB = f'unit = "in"\n[[part]]\nname = "a"\n{SIZES.format(10)}[[stock]]\n{SIZES.format(30)}'


@contextmanager
def held(site: Site, *names: str) -> Iterator[None]:
    """As while another thread has these turns."""
    app: Any = site.app
    turns: list[threading.Lock] = [getattr(app.state.site, name) for name in names]
    for turn in turns:
        assert turn.acquire(timeout=5)
    try:
        yield
    finally:
        for turn in turns:
            turn.release()


@pytest.mark.parametrize("path", PAGES)
def test_a_page_waits_for_nobody(shop: Site, path: str) -> None:
    with held(shop, "turn", "planning"):
        assert shop.get(path).status_code == 200


def test_a_form_waits_for_no_plan(shop: Site) -> None:
    with held(shop, "planning"):
        sent = shop.post("/changed/saw-carried", [("note", ""), ("key", "0198c0de-0000-7000-8000-000000000001")])
    assert sent.status_code in (200, 303)


def test_forms_and_plans_wait_for_their_like(shop: Site) -> None:
    forms = {"turn": ("/changed/saw-carried", [("note", "")]), "planning": ("/jobs", [("text", JOB)])}
    for name, (path, pairs) in forms.items():
        answers: list[httpx.Response] = []
        with held(shop, name):
            asked = threading.Thread(target=lambda: answers.append(shop.post(path, pairs)))  # noqa: B023 - joined here
            asked.start()
            asked.join(0.5)
            assert asked.is_alive() and not answers
        asked.join(20)
        assert answers[0].status_code < 500
