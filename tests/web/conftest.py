"""Books for the pages: an empty one, and one with a described shop; made once, copied for each test that writes."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tests.web.asking import Site

from trued.usecases.book.ready_book import ready_book
from trued.usecases.shop.describe_shop import describe_shop

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"


@pytest.fixture(scope="session")
def still(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The site of a described shop that no test changes."""
    book = tmp_path_factory.mktemp("still") / "shop.trued"
    describe_shop(SHOP, book)
    return Site.of(book)


@pytest.fixture(scope="session")
def still_empty(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The site of an empty book that no test changes."""
    book = tmp_path_factory.mktemp("still") / "empty.trued"
    ready_book(book, make=True)
    return Site.of(book)


@pytest.fixture
def empty(still_empty: Site, tmp_path: Path) -> Site:
    """The site of a book in which nothing is known."""
    return Site.of(Path(shutil.copy(still_empty.book, tmp_path)))


@pytest.fixture
def shop(still: Site, tmp_path: Path) -> Site:
    """The site of a shop that was described and never measured."""
    return Site.of(Path(shutil.copy(still.book, tmp_path)))
