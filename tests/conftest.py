"""What holds for every test."""

import os

import pytest
from hypothesis import HealthCheck, settings

import trued.usecases  # noqa: F401  # tells the core the features that the checks declare

# Several cores run the suite side by side, so the time of one example says nothing. In CI every change is judged by the
# same examples; elsewhere each run tries new ones.
settings.register_profile(
    "trued",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    print_blob=True,
    derandomize="CI" in os.environ,
)
settings.load_profile("trued")


@pytest.fixture(autouse=True)
def _no_book_of_the_person(monkeypatch: pytest.MonkeyPatch) -> None:
    """A test must never read or write the book of whoever runs it."""
    monkeypatch.delenv("TRUED_BOOK", raising=False)
