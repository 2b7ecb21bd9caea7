"""A way to call, and a book to call with."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.calling import SHOP, Call, caller


@pytest.fixture
def trued(capsys: pytest.CaptureFixture[str]) -> Call:
    """Runs one command and tells what it printed."""
    return caller(capsys)


@pytest.fixture
def book(tmp_path: Path, trued: Call) -> Path:
    """The book of the example shop, in which nothing was found yet."""
    path = tmp_path / "shop.trued"
    assert trued("shop", SHOP, "--book", path).status == 0
    return path
