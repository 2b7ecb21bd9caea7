"""A shop after a second description of it: what that names is changed, nothing is deleted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from typing import TypeVar

from trued.equipment.fixture import Fixture
from trued.equipment.saw import Blade, Saw, Table
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.measure.instrument import Instrument

_V = TypeVar("_V", Saw, Blade, Table)
_T = TypeVar("_T", Fixture, Instrument)


def merge_shop(old: Shop, new: Shop) -> Shop:
    """`old` with all that `new` names put in its place. A fixture that is gone is marked retired, never left out."""
    return Shop(
        name=new.name or old.name,
        unit=new.unit,
        saw=_saw(old.saw, new.saw),
        blade=_blade(old.blade, new.blade),
        fixtures=_by_id(old.fixtures, tuple(_fixture(old, fixture) for fixture in new.fixtures)),
        instruments=_by_id(old.instruments, new.instruments),
    )


def _saw(old: Saw | None, new: Saw | None) -> Saw | None:
    if old is None or new is None:
        return new or old
    heights = {**old.max_cut_mm, **new.max_cut_mm}
    return replace(_named(old, new), table=_named(old.table, new.table), max_cut_mm=heights)


def _blade(old: Blade | None, new: Blade | None) -> Blade | None:
    """Another id is another blade, of which nothing is known from the one before."""
    if old is None or new is None or old.id != new.id:
        return new or old
    try:
        return _named(old, new)
    except ValueError as wrong:
        raise InputRefused.of("[blade]", "", str(wrong)) from None


def _fixture(old: Shop, new: Fixture) -> Fixture:
    before = next((fixture for fixture in old.fixtures if fixture.id == new.id), None)
    if before is None or before.kind != new.kind:
        return new
    return replace(new, facts={**before.facts, **new.facts})


def _named(old: _V, new: _V) -> _V:
    """The old value with every fact that the new one knows."""
    known = {f.name: value for f in fields(new) if (value := getattr(new, f.name)) is not None}
    return replace(old, **known)


def _by_id(old: Sequence[_T], new: Sequence[_T]) -> tuple[_T, ...]:
    kept = {thing.id: thing for thing in old}
    return tuple({**kept, **{thing.id: thing for thing in new}}.values())
