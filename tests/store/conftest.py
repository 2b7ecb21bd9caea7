"""An empty book in a folder of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.store.samples import new_book

from trued.store.book import Book


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A new book, closed after the test."""
    with new_book(tmp_path) as made:
        yield made
