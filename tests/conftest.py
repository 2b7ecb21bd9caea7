"""What holds for every test."""

import pytest
from hypothesis import settings

# Two cores run the suite side by side, so the time of one example says nothing.
settings.register_profile("trued", deadline=None, print_blob=True)
settings.load_profile("trued")


@pytest.fixture(autouse=True)
def _no_book_of_the_person(monkeypatch: pytest.MonkeyPatch) -> None:
    """A test must never read or write the book of whoever runs it."""
    monkeypatch.delenv("TRUED_BOOK", raising=False)
