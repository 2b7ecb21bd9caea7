"""A shop from its file: TOML text of our own, every size read like everywhere else, all faults at once."""

from __future__ import annotations

from typing import TypeVar, cast

from trued.equipment.file.read_fixture import read_fixture, read_instrument
from trued.equipment.file.read_saw import read_blade, read_saw
from trued.equipment.fixture import Fixture
from trued.equipment.shop import Shop
from trued.errors import Faults
from trued.measure.instrument import Instrument
from trued.toml.section import Section, parse
from trued.units import Unit

FORMAT = 1
_HANDS = ("left", "right")
_T = TypeVar("_T", Fixture, Instrument)


def read_shop(text: str, unit: Unit | None = None, *, known: Shop | None = None) -> Shop:
    """The shop that a file describes; InputRefused names every fault with its place.

    unit:  what bare numbers mean where the file does not say; the known shop's, else inches.
    known: the shop as it was before. What the file leaves out of an instrument or a fixture's kind is taken from it.
    """
    faults = Faults()
    top = Section(parse(text), "", "in", faults)
    default = unit or (known.unit if known is not None else "in")
    meant = _unit(top, default)
    top = Section(parse(text), "", meant, faults)
    shop = _shop(top, meant, known or Shop())
    faults.raise_if_any()
    return shop


def _unit(top: Section, default: Unit) -> Unit:
    word = top.text("unit") if "unit" in top else None
    return cast("Unit", word) if word in ("in", "mm") else default


def _shop(top: Section, unit: Unit, known: Shop) -> Shop:
    version = top.count("trued")
    if version is not None and version != FORMAT:
        top.refuse("trued", str(version), f"This program reads shop files of form {FORMAT}; write trued = {FORMAT}.")
    top.word("unit", ("in", "mm"))
    name = top.text("name") or ""
    saw = read_saw(section) if (section := top.table("saw")) is not None else None
    blade = read_blade(section) if (section := top.table("blade")) is not None else None
    fixtures = _each(
        top, "fixture", [f for s in top.tables("fixture") if (f := read_fixture(s, unit, known)) is not None]
    )
    own = [i for s in top.tables("instrument") if (i := read_instrument(s, known)) is not None]
    instruments = _each(top, "instrument", own)
    top.done(("name", "unit", "saw", "blade", "fixture", "instrument"))
    return Shop(name, unit, saw, blade, fixtures, instruments)


def _each(top: Section, key: str, things: list[_T]) -> tuple[_T, ...]:
    """The things, each id once."""
    kept: dict[str, _T] = {}
    for thing in things:
        if thing.id in kept:
            top.refuse(key, thing.id, f"Two are called {thing.id!r}; give each its own id.")
        kept[thing.id] = thing
    return tuple(kept.values())
