"""Describe the shop from a file, making its book if there is none yet; or show what the book holds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.equipment.file.read_shop import read_shop
from trued.equipment.file.shop_text import shop_text
from trued.equipment.merge_shop import merge_shop
from trued.equipment.saw import Blade
from trued.equipment.shop import Shop
from trued.errors import BookRefused
from trued.standing.history.event import Event, event_of
from trued.usecases.files.read_file import read_text
from trued.usecases.shop.forbidden_work import forbidden
from trued.usecases.shop.shop_now import opened

if TYPE_CHECKING:
    from trued.store.book import Book


@dataclass(frozen=True, slots=True)
class ShopView:
    """The shop with its text as a shop file; `made` when the book is new, `path` None when nothing was kept.

    `event`: another blade than before was described, which was kept as an event; None else.
    `bans`: what of it must not be used as it is described.
    """

    shop: Shop
    text: str
    path: Path | None
    made: bool = False
    event: Event | None = None

    @property
    def bans(self) -> tuple[str, ...]:
        """The gravest first."""
        return forbidden(self.shop).texts


def describe_shop(file: Path | None, book: Path | None, *, at: datetime | None = None) -> ShopView:
    """Read the file into the book (a second file changes what it names and deletes nothing), or show the book.

    A blade of another name is another blade: that is kept as an event of the time `at`, for it makes the kerf doubtful.
    """
    return describe_text(read_text(file) if file is not None else None, book, at=at)


def describe_text(text: str | None, book: Path | None, *, at: datetime | None = None) -> ShopView:
    """The same from the text of a shop file."""
    described = read_shop(text) if text is not None else None
    if book is None:
        if described is None:
            raise BookRefused.of("--book", "", "Name a shop file to read, a book with --book, or set TRUED_BOOK.")
        return ShopView(described, shop_text(described), None)
    new = not book.exists()
    if new and described is None:
        raise BookRefused.of("--book", str(book), f"There is no book here yet: trued shop SHOP.toml --book {book}")
    event = None
    with opened(book, create=described is not None) as kept:
        if described is not None and new:
            kept.save_shop(described)
        elif described is not None:
            before = kept.shop()
            after = merge_shop(before, described)
            event = _another_blade(kept, before.blade, after.blade, at or datetime.now(UTC))
            kept.save_shop(after)
        shop = kept.shop()
    return ShopView(shop, shop_text(shop), book, new, event)


def _another_blade(book: Book, before: Blade | None, after: Blade | None, at: datetime) -> Event | None:
    """Kept before the shop is: a book cut short in between doubts too much, never too little."""
    from trued.store.ids import new_id
    from trued.store.rows import EventRow

    if before is None or after is None or before.id == after.id:
        return None
    event = event_of(_kind(before.kerf_mm, after.kerf_mm))
    book.add_event(EventRow(new_id(), event.kind, at, after.id))
    return event


def _kind(before_mm: float | None, after_mm: float | None) -> str:
    """Which event it is; where a marked kerf is not known, the one that doubts the most."""
    if before_mm is None or after_mm is None or after_mm < before_mm:
        return "blade-thinner"
    return "blade-thicker" if after_mm > before_mm else "blade-same-kerf"
