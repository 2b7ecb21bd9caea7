"""A shop comes back as it was saved; what is no longer named stays, but is out of use."""

import math
from dataclasses import replace

import pytest
from tests.store.samples import SHOP

from trued.equipment.fixture import Fixture
from trued.equipment.saw import Blade, Saw
from trued.equipment.shop import Shop
from trued.measure.instrument import DEFAULTS
from trued.store.book import Book


def test_a_new_book_knows_nothing_of_the_shop(book: Book) -> None:
    assert book.shop() == Shop()


@pytest.mark.parametrize(
    "shop",
    [
        SHOP,
        Shop("Bare", "mm"),
        Shop("Nobody looked into the manual", saw=Saw("saw", maker_forbids=None)),
        Shop("The maker forbids nothing", saw=Saw("saw", maker_forbids=())),
        Shop("All instruments", instruments=tuple(DEFAULTS.values())),
        Shop(
            "A repeat that is known for sure",
            instruments=(replace(SHOP.instruments[0], repeat=replace(SHOP.instruments[0].repeat, dof=math.inf)),),
        ),
    ],
    ids=lambda shop: shop.name,
)
def test_a_shop_comes_back_as_it_was_saved(book: Book, shop: Shop) -> None:
    book.save_shop(shop)
    assert book.shop() == shop
    book.save_shop(shop)
    assert book.shop() == shop


def test_another_blade_takes_the_place_of_the_first_which_stays_in_the_book(book: Book) -> None:
    book.save_shop(SHOP)
    thick = Blade("thick", plate_mm=2.2, kerf_mm=3.2)
    book.save_shop(replace(SHOP, blade=thick))
    assert book.shop().blade == thick
    assert book.rows()["blade"] == 2
    book.save_shop(SHOP)
    assert book.shop().blade == SHOP.blade


def test_no_blade_is_no_blade(book: Book) -> None:
    book.save_shop(SHOP)
    book.save_shop(replace(SHOP, blade=None))
    assert book.shop().blade is None


def test_a_fixture_that_is_no_longer_named_is_retired_and_an_instrument_stays(book: Book) -> None:
    book.save_shop(SHOP)
    jig = Fixture("jig", "mitre-gauge")
    book.save_shop(Shop(SHOP.name, SHOP.unit, SHOP.saw, SHOP.blade, (jig,), ()))
    sled, wing = (replace(fixture, retired=True) for fixture in SHOP.fixtures)
    assert book.shop().fixtures == (jig, sled, wing)
    assert book.shop().instruments == SHOP.instruments
