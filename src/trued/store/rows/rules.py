"""What every row of the book holds to."""

from __future__ import annotations

from datetime import UTC

from trued.store.ids import must_be_id

Exact = tuple[int, int]
"""Numerator and denominator of the exact millimetres."""

_MOST = 2**63  # whole numbers of the database have 64 bits


def needs(row: object, **texts: str) -> None:
    """ValueError when one of the named texts is empty."""
    for name, text in texts.items():
        if not text:
            raise ValueError(f"{type(row).__name__} needs {name}")


def ids(row: object, **texts: str | None) -> None:
    """ValueError when one of the named texts is neither an id nor None."""
    for name, text in texts.items():
        if text is not None:
            must_be_id(text, f"{type(row).__name__}.{name}")


def utc(row: object, *names: str) -> None:
    """Bring the named times of a fresh row to UTC; ValueError when one has no zone."""
    for name in names:
        at = getattr(row, name)
        if at is None:
            continue
        if at.tzinfo is None:
            raise ValueError(f"{type(row).__name__}.{name} needs a time zone")
        object.__setattr__(row, name, at.astimezone(UTC))


def exact(row: object, mm: Exact | None) -> None:
    """ValueError when a length does not fit the columns."""
    if mm is not None and not (-_MOST < mm[0] < _MOST and 0 < mm[1] < _MOST):
        raise ValueError(f"{type(row).__name__}: an exact length is two whole numbers of at most 63 bits, got {mm}")


def correction(row: object, own: str, supersedes: str | None, withdrawn: bool) -> None:
    """ValueError when the row takes back nothing, or itself."""
    if withdrawn and supersedes is None:
        raise ValueError(f"{type(row).__name__}: a row that takes back must say which one it supersedes")
    if supersedes == own:
        raise ValueError(f"{type(row).__name__}: a row cannot supersede itself")
