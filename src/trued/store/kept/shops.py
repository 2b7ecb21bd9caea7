"""The shop as rows. A saw or blade that is no longer used stays, but is not the current one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any, cast

from sqlalchemy import Connection, Table, delete, insert, select, update

from trued.equipment.fixture import Fixture
from trued.equipment.saw import Blade, Saw
from trued.equipment.saw import Table as SawTable
from trued.equipment.shop import Shop
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import Instrument
from trued.store import tables
from trued.store.kept.state_cache import drop_states
from trued.units import Unit


def save_shop(connection: Connection, shop: Shop) -> None:
    """Keep the shop as it is now; standings kept for speed rest on it and are dropped.

    Nothing goes: a fixture that is no longer named is retired, an instrument that is no longer named stays.
    """
    connection.execute(update(tables.book).values(name=shop.name, unit=shop.unit))
    _save_current(connection, tables.saw, shop.saw)
    _save_current(connection, tables.blade, shop.blade)
    connection.execute(update(tables.fixture).values(retired=True))
    _save_all(connection, tables.fixture, [_fixture_values(fixture) for fixture in shop.fixtures])
    _save_all(connection, tables.instrument, [_instrument_values(instrument) for instrument in shop.instruments])
    drop_states(connection)


def read_shop(connection: Connection) -> Shop:
    """The shop; of a new book one in which nothing is known yet."""
    name, unit = connection.execute(select(tables.book.c.name, tables.book.c.unit)).one()
    saw, blade = _read_current(connection, tables.saw), _read_current(connection, tables.blade)
    fixtures = connection.execute(select(tables.fixture).order_by(tables.fixture.c.place)).mappings()
    instruments = connection.execute(select(tables.instrument).order_by(tables.instrument.c.place)).mappings()
    return Shop(
        name,
        cast("Unit", unit),
        None if saw is None else _saw(saw),
        None if blade is None else Blade(**blade),
        tuple(Fixture(row["id"], row["kind"], row["facts"], row["retired"]) for row in fixtures),
        tuple(_instrument(row) for row in instruments),
    )


def _save_current(connection: Connection, table: Table, thing: Saw | Blade | None) -> None:
    connection.execute(update(table).values(current=False))
    if thing is not None:
        connection.execute(delete(table).where(table.c.id == thing.id))
        connection.execute(insert(table).values(id=thing.id, facts=asdict(thing), current=True))


def _read_current(connection: Connection, table: Table) -> dict[str, Any] | None:
    facts = connection.scalar(select(table.c.facts).where(table.c.current))
    return None if facts is None else dict(facts)


def _save_all(connection: Connection, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
    """Keep these in their order, and after them those that are no longer named."""
    named = [row["id"] for row in rows]
    connection.execute(delete(table).where(table.c.id.in_(named)))
    left = connection.scalars(select(table.c.id).where(table.c.id.not_in(named)).order_by(table.c.place)).all()
    for place, row in enumerate(rows):
        connection.execute(insert(table).values(**row, place=place))
    for place, id in enumerate(left, start=len(named)):
        connection.execute(update(table).where(table.c.id == id).values(place=place))


def _saw(facts: dict[str, Any]) -> Saw:
    bans = facts["maker_forbids"]
    facts["table"] = SawTable(**facts["table"])
    facts["max_cut_mm"] = {int(degrees): mm for degrees, mm in facts["max_cut_mm"].items()}
    facts["maker_forbids"] = None if bans is None else tuple(bans)
    return Saw(**facts)


def _fixture_values(fixture: Fixture) -> dict[str, Any]:
    return {"id": fixture.id, "kind": fixture.kind, "facts": fixture.facts, "retired": fixture.retired}


def _instrument_values(instrument: Instrument) -> dict[str, Any]:
    repeat = instrument.repeat
    return {
        "id": instrument.id,
        "kind": instrument.kind,
        "resolution": instrument.resolution,
        "limit_of_error": instrument.limit,
        "repeat": repeat.s,
        "repeat_dof": repeat.dof,
        "repeat_seen": repeat.seen,
        "repeat_pairs": repeat.pairs,
        "range_mm": instrument.range_mm,
        "digital": instrument.digital,
        "source": instrument.source,
    }


def _instrument(row: Mapping[Any, Any]) -> Instrument:
    repeat = EstimatedSd(row["repeat"], row["repeat_dof"], row["repeat_seen"], row["repeat_pairs"])
    return Instrument(
        row["id"],
        row["kind"],
        row["resolution"],
        row["limit_of_error"],
        repeat,
        row["range_mm"],
        row["digital"],
        row["source"],
    )
