"""The book to work with: the one that is there, or a new empty one in a folder that is made for it."""

from __future__ import annotations

from pathlib import Path

from trued.errors import BookRefused
from trued.usecases.shop.shop_now import opened


def ready_book(path: Path, *, make: bool = False) -> bool:
    """Whether it was made now; BookRefused when it cannot be opened, or made where it may be made."""
    new = not path.exists()
    if new and make:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise BookRefused.of(str(path), "", f"Its folder cannot be made: {error.strerror or error}.") from None
    with opened(path, create=make):
        return new
