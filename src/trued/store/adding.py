"""Add a row once: the same row delivered again changes nothing, another row under its id is refused."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from sqlalchemy import ColumnElement, Connection, Table, and_, exists, func, insert, select

from trued.errors import InputRefused

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


def values_of(row: DataclassInstance) -> dict[str, Any]:
    """The fields of a row value by name."""
    return {field.name: getattr(row, field.name) for field in fields(row)}


def add(
    connection: Connection, table: Table, values: Mapping[str, Any], *, own: Mapping[str, Any] | None = None
) -> bool:
    """Whether the row was new. `own` are values of the book's own, which do not tell one row from another."""
    there = connection.execute(select(*(table.c[name] for name in values)).where(table.c.id == values["id"])).first()
    if there is None:
        arrived = {"arrived": _next(connection, table)} if "arrived" in table.c else {}
        connection.execute(insert(table).values(**values, **(own or {}), **arrived))
        return True
    if tuple(there) != tuple(values.values()):
        raise InputRefused.of(table.name, values["id"], "Another row of this id is in the book; nothing was changed.")
    return False


def add_correctable(connection: Connection, table: Table, values: Mapping[str, Any]) -> bool:
    """The same for a row that may supersede an earlier one; it joins that one's chain."""
    chain = values["id"]
    if values["supersedes"] is not None:
        chain = connection.scalar(select(table.c.chain).where(table.c.id == values["supersedes"]))
        if chain is None:
            text = "The row that this one corrects is not in the book; nothing was changed."
            raise InputRefused.of(table.name, values["supersedes"], text)
    return add(connection, table, values, own={"chain": chain})


def stands(table: Table) -> ColumnElement[bool]:
    """The rows that count: of each chain the one that came in last, unless it takes the chain back."""
    later = table.alias("later")
    newer = exists().where(later.c.chain == table.c.chain, later.c.arrived > table.c.arrived)
    return and_(~table.c.withdrawn, ~newer)


def _next(connection: Connection, table: Table) -> int:
    last: int | None = connection.scalar(select(func.max(table.c.arrived)))
    return (last or 0) + 1
