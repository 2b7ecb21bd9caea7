"""Readings as they were typed, changed by hand, and what is said of them. The sums of the product are not used."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Sequence
from dataclasses import replace

import numpy as np
from benchmarks.planted.kind import Planted
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH
from tests.checks.worlds import all_worlds

from trued.checks import find_check
from trued.errors import InputRefused
from trued.procedure import take
from trued.procedure.finding import noticed

WORLDS = all_worlds()
CHECKS = {id: find_check(id) for id in WORLDS}
CALIPER_SD, NEEDLE_SD, FEELER_SD, TAPE_SD = 0.025, 0.0085, 0.0135, 0.42  # mm, of one reading, its step included

SLIP = "unit-slip unexpected-size input-refused"

Rng = np.random.Generator
Changed = tuple[Simulated, bool]
"""A run with a blunder in it, and whether its readings could show it."""
Change = Callable[[Rng, Simulated], Changed]
Plant = Callable[[Rng], Planted]


def either(rng: Rng) -> float:
    """One way or the other."""
    return float(rng.choice([-1.0, 1.0]))


def differ(sd: float, readings: float = 1.0) -> float:
    """Two honest means of so many readings hardly differ by more: twice their standard deviation."""
    return 2.0 * math.sqrt(2.0 / readings) * sd


def said(one: Simulated, typed: Sequence[str] | None = None) -> frozenset[str]:
    """The codes of all warnings about a run as it was typed; `input-refused` where a reading cannot be taken at all."""
    given, check = one.typed if typed is None else typed, CHECKS[one.check]
    try:
        taken = take(check, given, one.facts, instruments=one.instruments, unit="mm", scatter=one.scatter)
    except InputRefused:
        return frozenset({"input-refused"})
    return frozenset(seen.code for seen in noticed(taken))


def changed_world(check: str, change: Change) -> Plant:
    """An honest run of that check, changed; `change` says too whether its readings could show it."""

    def plant(rng: np.random.Generator) -> Planted:
        one, shows = change(rng, WORLDS[check](rng))
        return Planted(said(one) if shows else frozenset(), shows)

    return plant


def mm(text: str) -> float:
    """The number of a typed reading."""
    number = text.partition("=")[2]
    return float(number.removesuffix("in")) * INCH if number.endswith("in") else float(number.removesuffix("mm"))


def name_of(text: str) -> str:
    """`board@keeper` of `board@keeper=139.71mm`."""
    return text.partition("=")[0]


def changed(typed: Sequence[str], at: int, change: Callable[[float], float], shown: str = "{:.2f}mm") -> list[str]:
    """One of the readings typed otherwise."""
    return [f"{name_of(text)}={shown.format(change(mm(text)))}" if i == at else text for i, text in enumerate(typed)]


def places(typed: Sequence[str], *names: str) -> list[int]:
    """Where readings of these names, at any station, stand."""
    return [i for i, text in enumerate(typed) if {name_of(text), name_of(text).partition("@")[0]} & set(names)]


def shifted(one: Simulated, by: float, *names: str, last: int | None = None) -> Simulated:
    """All readings of these names (or the last so many of them) are off by so many mm."""
    at = places(one.typed, *names)
    at = at if last is None else at[-last:]
    return replace(one, typed=[f"{name_of(t)}={mm(t) + by:.4f}mm" if i in at else t for i, t in enumerate(one.typed)])


def retyped(one: Simulated, **texts: str) -> Simulated:
    """Readings and words of these names typed as those texts; names that are missing are added."""
    left = [text for text in one.typed if name_of(text) not in texts]
    return replace(one, typed=[*left, *(f"{name}={text}" for name, text in texts.items())])


def exchanged(one: Simulated, first: str, second: str) -> Simulated:
    """Two names changed over."""
    swap = {first: second, second: first}
    typed = [f"{swap.get(name_of(t), name_of(t))}={t.partition('=')[2]}" for t in one.typed]
    return replace(one, typed=typed)


def without(one: Simulated, *names: str) -> Simulated:
    """Readings of these names left out."""
    gone = places(one.typed, *names)
    return replace(one, typed=[text for i, text in enumerate(one.typed) if i not in gone])


def told(one: Simulated, **facts: str) -> Simulated:
    """The same with more facts."""
    return replace(one, facts={**one.facts, **facts})


def lengths(typed: Sequence[str], check: str, instruments: Collection[str] = ("caliper",)) -> list[int]:
    """Where lengths read by one of these instruments stand among what was typed."""
    asked = {a.name for a in CHECKS[check].asks if a.instrument in instruments and a.kind.value == "length"}
    return [i for i, text in enumerate(typed) if name_of(text).partition("@")[0] in asked]
