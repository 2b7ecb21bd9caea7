"""Books for the pages: an empty one, and one with a described shop."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.web.asking import Site

from trued.usecases.describe_shop import describe_shop
from trued.usecases.ready_book import ready_book

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"


@pytest.fixture
def empty(tmp_path: Path) -> Site:
    """The site of a book in which nothing is known."""
    book = tmp_path / "empty.trued"
    ready_book(book, make=True)
    return Site.of(book)


@pytest.fixture
def shop(tmp_path: Path) -> Site:
    """The site of a shop that was described and never measured."""
    book = tmp_path / "shop.trued"
    describe_shop(SHOP, book)
    return Site.of(book)


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
