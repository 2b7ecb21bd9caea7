"""Describe the shop from a file, making its book if there is none yet; or show what the book holds."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from trued.errors import BookRefused, InputRefused
from trued.shop.merge_shop import merge_shop
from trued.shop.read_shop import read_shop
from trued.shop.shop import Shop
from trued.shop.shop_text import shop_text
from trued.usecases.shop_now import opened


@dataclass(frozen=True, slots=True)
class ShopView:
    """The shop with its text as a shop file; `made` when the book is new, `path` None when nothing was kept."""

    shop: Shop
    text: str
    path: Path | None
    made: bool = False


def describe_shop(file: Path | None, book: Path | None) -> ShopView:
    """Read the file into the book (a second file changes what it names and deletes nothing), or show the book."""
    described = read_shop(read_text(file)) if file is not None else None
    if book is None:
        if described is None:
            raise BookRefused.of("--book", "", "Name a shop file to read, a book with --book, or set TRUED_BOOK.")
        return ShopView(described, shop_text(described), None)
    new = not book.exists()
    if new and described is None:
        raise BookRefused.of("--book", str(book), f"There is no book here yet: trued shop SHOP.toml --book {book}")
    with opened(book, create=described is not None) as kept:
        if described is not None:
            kept.save_shop(described if new else merge_shop(kept.shop(), described))
        shop = kept.shop()
    return ShopView(shop, shop_text(shop), book, new)


def read_text(file: Path) -> str:
    """A text file, or a sentence."""
    try:
        return file.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise InputRefused.of(str(file), "", "There is no such file.") from None
    except (OSError, UnicodeDecodeError) as error:
        raise InputRefused.of(str(file), "", f"The file cannot be read as text: {error}.") from None
