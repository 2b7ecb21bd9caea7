"""Stock is what came less what went; sizes are kept as typed and exactly."""

from dataclasses import replace
from fractions import Fraction

from tests.store.samples import A_CHANGE, A_STOCK, id_of

from trued.store.book import Book
from trued.store.rows import StockHeld


def test_stock_comes_and_goes(book: Book) -> None:
    assert book.add_stock(A_STOCK, A_CHANGE)
    assert not book.add_stock(A_STOCK, A_CHANGE)
    assert book.stock() == (StockHeld(A_STOCK, 3),)
    assert book.change_stock(replace(A_CHANGE, id=id_of("used"), what="used", by=-2))
    assert book.stock() == (StockHeld(A_STOCK, 1),)
    book.change_stock(replace(A_CHANGE, id=id_of("gone"), what="used", by=-1))
    assert book.stock() == ()


def test_a_size_is_exact(book: Book) -> None:
    """7 1/4 in at 25.4 mm an inch (exact by agreement since 1959) is 184.15 mm."""
    book.add_stock(A_STOCK, A_CHANGE)
    width = book.stock()[0].stock.width
    assert (width.typed, width.mm) == ("7 1/4", Fraction("184.15"))
