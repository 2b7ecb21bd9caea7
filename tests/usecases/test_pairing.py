"""The code that lets a phone in, and the phones that were let in.

A code of six figures and five tries is guessed 5 times in a million (counted). NIST SP 800-63B asks 64 bits of a
session secret (from memory); a phone's key has 256.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.errors import InputRefused
from trued.usecases.book.ready_book import ready_book
from trued.usecases.phones.pairing import LIVES, TRIES_A_MINUTE, WRONG_TRIES, Pairing
from trued.usecases.phones.phones import let_in, list_phones, one_phone, phone_of, remove

NOW = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)


def wrong(figures: str) -> str:
    """Another code of six figures."""
    return f"{(int(figures) + 1) % 10**6:06d}"


@pytest.mark.parametrize("which", ["secret", "figures", "spaced", "capitals"])
def test_a_code_lets_one_phone_in_once(which: str) -> None:
    pairing = Pairing()
    code = pairing.new("member", NOW)
    typed = {
        "secret": code.secret,
        "figures": code.figures,
        "spaced": f" {code.figures[:3]} {code.figures[3:]} ",
        "capitals": code.secret.upper(),
    }[which]
    assert pairing.use(typed, NOW) == code
    assert pairing.use(typed, NOW) is None and pairing.code(NOW) is None


def test_a_code_lives_five_minutes_and_not_before_it_was_made() -> None:
    pairing = Pairing()
    code = pairing.new("member", NOW)
    assert pairing.code(NOW + LIVES - timedelta(seconds=1)) == code
    assert pairing.use(code.secret, NOW + LIVES) is None
    code = pairing.new("member", NOW)
    assert pairing.use(code.secret, NOW - timedelta(seconds=1)) is None


def test_five_wrong_tries_kill_the_right_one() -> None:
    pairing = Pairing()
    code = pairing.new("member", NOW)
    for _ in range(WRONG_TRIES - 1):
        assert pairing.use(wrong(code.figures), NOW) is None
    assert pairing.code(NOW) == code
    assert pairing.use("", NOW) is None
    assert pairing.use(code.figures, NOW) is None


def test_a_new_code_kills_the_one_before() -> None:
    pairing = Pairing()
    first = pairing.new("member", NOW)
    second = pairing.new("reader", NOW)
    assert pairing.use(first.secret, NOW) is None
    assert pairing.use(second.secret, NOW) == second


def test_more_than_five_tries_a_minute_are_not_looked_at() -> None:
    pairing = Pairing()
    assert not any(pairing.too_often(NOW + timedelta(seconds=s)) for s in range(TRIES_A_MINUTE))
    assert pairing.too_often(NOW + timedelta(seconds=59))
    assert not pairing.too_often(NOW + timedelta(seconds=60))


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """An empty book."""
    path = tmp_path / "shop.trued"
    ready_book(path, make=True)
    return path


def test_a_phone_is_known_by_its_key_until_it_is_removed(book: Path) -> None:
    first, key = let_in("Bench phone", "member", book)
    second, other = let_in("Tablet", "reader", book)
    assert len(key) == 64 and key != other
    assert phone_of(key, book) == first and phone_of(other, book) == second
    assert phone_of(key[:-1], book) is None and phone_of("", book) is None
    assert first.may_write and not second.may_write
    assert remove(first.id, book, NOW).removed == NOW
    assert phone_of(key, book) is None and phone_of(other, book) == second
    assert [phone.name for phone in list_phones(book)] == ["Tablet", "Bench phone"]
    assert remove(first.id, book, NOW + timedelta(days=1)).removed == NOW


def test_the_book_holds_no_key(book: Path) -> None:
    _, key = let_in("Bench phone", "member", book)
    assert not any(key.encode() in path.read_bytes() for path in book.parent.iterdir())


@pytest.mark.parametrize("name", ["", "  ", "x" * 41, "a\x1b[31m", "bench PHONE"])
def test_a_name_that_cannot_be_had(name: str, book: Path) -> None:
    let_in("Bench phone", "member", book)
    with pytest.raises(InputRefused):
        let_in(name, "member", book)
    assert len(list_phones(book)) == 1


def test_the_name_of_a_removed_phone_is_free(book: Path) -> None:
    phone, _ = let_in("Bench phone", "member", book)
    remove(phone.id, book, NOW)
    again, _ = let_in("Bench phone", "member", book)
    assert again.id != phone.id
    with pytest.raises(InputRefused):
        one_phone("", book)
