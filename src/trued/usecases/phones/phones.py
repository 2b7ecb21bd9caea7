"""Phones that were let in: kept in the book by name, role and the hash of their key. A removed one stays listed."""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from trued.errors import InputRefused
from trued.store.ids import new_id
from trued.store.rows import DeviceRow
from trued.usecases.phones.pairing import ROLES
from trued.usecases.shop.shop_now import opened

LONGEST_NAME = 40


@dataclass(frozen=True, slots=True)
class Phone:
    """One device. `removed`: since when nothing of it is taken or shown; None while it may come in."""

    id: str
    name: str
    role: str
    removed: datetime | None = None

    @property
    def may(self) -> str:
        """What it may do, in words."""
        return "removed" if self.removed else ROLES[self.role]

    @property
    def may_write(self) -> bool:
        """Whether it may send forms."""
        return self.role == "member"


def list_phones(book: Path) -> tuple[Phone, ...]:
    """By name; the removed ones last."""
    with opened(book) as kept:
        phones = [_phone(row) for row in kept.devices()]
    return tuple(sorted(phones, key=lambda phone: (phone.removed is not None, phone.name.casefold(), phone.id)))


def let_in(name: str, role: str, book: Path) -> tuple[Phone, str]:
    """A new phone and its key, 256 bits in hex: it is told once and only its hash is kept. InputRefused for a name."""
    said = " ".join(name.split())
    if not said or len(said) > LONGEST_NAME or not said.isprintable():
        raise InputRefused.of("name", name, f"Give the phone a name of 1 to {LONGEST_NAME} letters.")
    with opened(book) as kept:
        if said.casefold() in {row.name.casefold() for row in kept.devices() if row.revoked is None}:
            raise InputRefused.of("name", name, f"There is a phone called {said}. Give this one another name.")
        key = secrets.token_hex(32)
        row = DeviceRow(new_id(), said, role, _hash(key))
        kept.add_device(row)
    return _phone(row), key


def phone_of(key: str, book: Path) -> Phone | None:
    """The phone with that key; None for one that was never let in, and for a removed one."""
    hashed = _hash(key)
    with opened(book) as kept:
        for row in kept.devices():
            if row.revoked is None and secrets.compare_digest(row.key_sha, hashed):
                return _phone(row)
    return None


def one_phone(beginning: str, book: Path) -> Phone:
    """The one whose id begins so; InputRefused when there is none or more than one."""
    found = [phone for phone in list_phones(book) if beginning and phone.id.startswith(beginning)]
    if len(found) != 1:
        text = "More than one phone begins so; give more of its id." if found else "There is no such phone."
        raise InputRefused.of("phone", beginning, text)
    return found[0]


def remove(beginning: str, book: Path, at: datetime | None = None) -> Phone:
    """Nothing of it is taken or shown from its next request on. What it sent before stays."""
    phone = one_phone(beginning, book)
    with opened(book) as kept:
        kept.revoke_device(phone.id, at or datetime.now(UTC))
    return one_phone(phone.id, book)


def _phone(row: DeviceRow) -> Phone:
    return Phone(row.id, row.name, row.role, row.revoked)


def _hash(key: str) -> str:
    return hashlib.sha256(key.encode()).hexdigest()
