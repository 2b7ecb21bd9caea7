"""Ids: random 128 bit, made by whoever writes a row, so that the same row delivered twice stays one row."""

from __future__ import annotations

import hashlib
import re
import secrets

_ID = re.compile(r"[0-9a-f]{32}")


def new_id() -> str:
    """A fresh id: 32 hexadecimal digits."""
    return secrets.token_hex(16)


def id_under(parent: str, name: str) -> str:
    """The one id that belongs to `name` under `parent`: a run's third reading has the same id in every delivery."""
    return hashlib.sha256(f"{parent}\n{name}".encode()).hexdigest()[:32]


def must_be_id(text: str, of: str) -> None:
    """ValueError unless `text` is an id; `of` says whose."""
    if not _ID.fullmatch(text):
        raise ValueError(f"the id of {of} is 32 hexadecimal digits, got {text!r}")
