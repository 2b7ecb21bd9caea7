"""What the asks of a check declare of themselves, planted in its worked example: sizes of 0, sizes in the other unit.

Every check that is found takes part, those of a person's own among them, without anything said of it here.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from benchmarks.planted.kind import Kind, Planted

from trued.errors import InputRefused
from trued.procedure import Check, take
from trued.procedure.finding import noticed
from trued.procedure.gross_errors import ALIKE, LEAST_SLIP_MM
from trued.units import read_length
from trued.usecases.shop.list_checks import list_checks

Edit = Callable[[str], str]


def said(check: Check, typed: list[str]) -> frozenset[str]:
    """The codes of all warnings about those readings."""
    try:
        taken = take(check, typed, dict(check.example.facts))
    except InputRefused:
        return frozenset({"input-refused"})
    return frozenset(seen.code for seen in noticed(taken))


def name_of(text: str) -> str:
    """The ask that a typed reading answers."""
    return text.partition("=")[0].partition("@")[0].partition(":")[0]


def _mm(text: str) -> float:
    return read_length(text.partition("=")[2], "in").mm


def nought(check: Check, names: set[str]) -> Callable[[np.random.Generator], Planted]:
    """One of those readings typed as 0: it shows always."""

    def plant(rng: np.random.Generator) -> Planted:
        typed = list(check.example.given)
        at = int(rng.choice([i for i, text in enumerate(typed) if name_of(text) in names]))
        typed[at] = f"{typed[at].partition('=')[0]}=0"
        return Planted(said(check, typed), True)

    return plant


def other_unit(check: Check, names: set[str]) -> Callable[[np.random.Generator], Planted]:
    """One of those readings typed in the other unit: it shows where the others are of one size."""

    def plant(rng: np.random.Generator) -> Planted:
        typed = list(check.example.given)
        places = [i for i, text in enumerate(typed) if name_of(text) in names]
        at = int(rng.choice(places))
        rest = [_mm(typed[i]) for i in places if i != at]
        mm = _mm(typed[at])
        typed[at] = f"{typed[at].partition('=')[0]}={mm:.2f}in"
        shows = len(rest) > 1 and min(rest) > LEAST_SLIP_MM and max(*rest, mm) <= ALIKE * min(*rest, mm)
        return Planted(said(check, typed), shows)

    return plant


def kinds() -> list[Kind]:
    """Two for each check whose example has readings of that sort."""
    made = []
    for check in list_checks():
        given = {name_of(text) for text in check.example.given}
        positive = {ask.name for ask in check.asks if ask.positive} & given
        alike = {ask.name for ask in check.asks if ask.alike} & given
        if positive:
            made.append(Kind("size of 0", check.id, frozenset({"no-size"}), "always", nought(check, positive)))
        if alike:
            shows = "two or more of the others are of its size"
            plant = other_unit(check, alike)
            made.append(Kind("one in the other unit", check.id, frozenset({"unit-slip"}), shows, plant))
    return made
