"""Paired devices; a right that was taken stays taken since the first time."""

from dataclasses import replace

from tests.store.samples import A_DEVICE, id_of, minute

from trued.store.book import Book


def test_a_device_is_kept_and_loses_its_right_once(book: Book) -> None:
    other = replace(A_DEVICE, id=id_of("board"), name="board", role="reader")
    assert book.add_device(A_DEVICE) and book.add_device(other)
    book.revoke_device(A_DEVICE.id, minute(5))
    book.revoke_device(A_DEVICE.id, minute(9))
    assert book.devices() == (other, replace(A_DEVICE, revoked=minute(5)))
