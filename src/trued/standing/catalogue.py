"""Every feature there is, as the checks that were found declare them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from trued.standing.declared import Feature, named

Declared = tuple[str, float, tuple[Feature, ...]]
"""A check's id, its minutes and the features that it declares."""


class Catalogue:
    """The features of the checks that were found. What it answers never changes; a check is loaded when it is needed.

    Where two checks declare one feature, the first of them is its check: one of a person's own stands last, and cannot
    take a feature from the check that it was made from.
    """

    __slots__ = ("_checks", "_found", "_rows", "_taken")

    def __init__(self, checks: Sequence[Callable[[], Declared]]) -> None:
        """checks: for each, what loads it."""
        self._checks, self._taken = tuple(checks), 0
        self._rows: dict[str, Feature] = {}
        self._found: dict[str, Feature | None] = {}

    @property
    def features(self) -> Mapping[str, Feature]:
        """Every feature by its bare name, in its turn."""
        while self._take_next():
            pass
        return {row.name: row for row in sorted(self._rows.values(), key=lambda row: (row.turn, row.name))}

    def find(self, full: str) -> Feature | None:
        """What is known of a feature by its full or bare name; None for one that no check declares.

        Of a blade's tilt the stop at 90° is one row, and the one at 45° stands for every other tilt.
        """
        if full not in self._found:
            parts = named(full)
            tilt = f"{parts.feature}@{'0' if parts.angle in ('', '0') else '45'}"
            while not (row := self._rows.get(parts.feature) or self._rows.get(tilt)) and self._take_next():
                pass
            self._found[full] = row
        return self._found[full]

    def _take_next(self) -> bool:
        """Load one more check; False when there is none. Two threads may load the same one: it says the same."""
        place = self._taken
        if place == len(self._checks):
            return False
        check, minutes, features = self._checks[place]()
        for feature in features:
            self._rows.setdefault(feature.name, replace(feature, check=check, minutes=minutes))
        self._taken = max(self._taken, place + 1)
        return True
