"""The names of errors in stored plans and in `--json`: they stay while the labels that a person reads change.

Scripts and kept plans name an error by its key. Where nothing is listed here, key and label are the same word.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

_KEYS = {
    "stop repeatability": "repeat of the stop",
    "bar swing": "swing of the bar",
    "board thickness": "thickness of the board",
    "thickness variation": "thickness from place to place",
    "rip setting repeatability": "setting the rip fence",
    "rip width repeatability": "repeat of a rip width",
}
_LABELS = {key: label for label, key in _KEYS.items()}


def error_key(label: str) -> str:
    """The key of the error with that label."""
    return _KEYS.get(label, label)


def error_label(key: str) -> str:
    """What a person reads for a key; a plan that was kept with the label itself is read too."""
    return _LABELS.get(key, key)


def keyed(shares: Mapping[str, float]) -> dict[str, float]:
    """Shares by label as shares by key, in their order."""
    return {error_key(label): share for label, share in shares.items()}


def labeled(shares: Mapping[str, float]) -> dict[str, float]:
    """Shares by key as shares by label, in their order."""
    return {error_label(key): share for key, share in shares.items()}


def all_labeled(keys: Iterable[str]) -> tuple[str, ...]:
    """The labels of several keys."""
    return tuple(error_label(key) for key in keys)
