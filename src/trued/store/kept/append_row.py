"""Add a row once: the same row delivered again changes nothing, another row under its id is refused."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from sqlalchemy import Column, ColumnElement, Connection, Table, and_, exists, func, insert, select

from trued.errors import InputRefused
from trued.store import tables

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


Values = Mapping[str, Any]


def values_of(row: DataclassInstance) -> dict[str, Any]:
    """The fields of a row value by name."""
    return {field.name: getattr(row, field.name) for field in fields(row)}


def columns_of(table: Table, row: type[DataclassInstance]) -> list[Column[Any]]:
    """The columns of the fields of a row value, in their order: `row(*found)` is the value."""
    return [table.c[field.name] for field in fields(row)]


def add(connection: Connection, table: Table, values: Values, own: Values | None = None) -> bool:
    """Whether the row was new. `own` are values of the book's own, which do not tell one row from another."""
    return add_all(connection, table, [(values, own or {})])


def add_all(connection: Connection, table: Table, rows: Sequence[tuple[Values, Values]]) -> bool:
    """Whether any row was new; the rows have the same columns."""
    there = _there(connection, table, [values for values, _ in rows])
    new = []
    for values, own in rows:
        known = there.get(values["id"])
        if known is None:
            new.append({**values, **own})
        elif known != tuple(values.values()):
            text = "Another row of this id is in the book; nothing was changed."
            raise InputRefused.of(table.name, values["id"], text)
    if new and "arrived" in table.c:
        last = max(connection.scalar(select(func.max(one.c.arrived))) or 0 for one in _counted_with(table))
        new = [{**values, "arrived": last + place} for place, values in enumerate(new, start=1)]
    if new:
        connection.execute(insert(table), new)
    return bool(new)


def _counted_with(table: Table) -> tuple[Table, ...]:
    """The tables whose arrivals are counted in one line with this one's, so that they tell what came first."""
    together = (tables.run, tables.move, tables.event, tables.answer)
    return together if table in together else (table,)


def _there(connection: Connection, table: Table, rows: Sequence[Values]) -> dict[str, tuple[Any, ...]]:
    if not rows:
        return {}
    columns = [table.c[name] for name in rows[0]]
    place = list(rows[0]).index("id")
    found = connection.execute(select(*columns).where(table.c.id.in_([values["id"] for values in rows])))
    return {row[place]: tuple(row) for row in found}


def add_correctable(connection: Connection, table: Table, values: Values) -> bool:
    """The same for a row that may supersede an earlier one; it joins that one's chain."""
    chain = values["id"]
    if values["supersedes"] is not None:
        chain = connection.scalar(select(table.c.chain).where(table.c.id == values["supersedes"]))
        if chain is None:
            text = "The row that this one corrects is not in the book; nothing was changed."
            raise InputRefused.of(table.name, values["supersedes"], text)
    return add(connection, table, values, {"chain": chain})


def stands(table: Table) -> ColumnElement[bool]:
    """The rows that count: of each chain the one that came in last, unless it takes the chain back."""
    later = table.alias("later")
    newer = exists().where(later.c.chain == table.c.chain, later.c.arrived > table.c.arrived)
    return and_(~table.c.withdrawn, ~newer)
