"""Stock: what there is, and every change of how many."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection, func, select

from trued.store import tables
from trued.store.kept.append_row import add, values_of
from trued.store.rows import Size, StockChangeRow, StockHeld, StockRow

_SIZES = ("length", "width", "thickness")


def add_stock(connection: Connection, stock: StockRow) -> bool:
    """Whether it was new; how many there are of it is told by changes alone."""
    values = values_of(stock)
    for name in _SIZES:
        size: Size = values.pop(name)
        values[f"{name}_typed"] = size.typed
        values[f"{name}_num"], values[f"{name}_den"] = size.exact_mm
    return add(connection, tables.stock, values)


def change_stock(connection: Connection, change: StockChangeRow) -> bool:
    """Whether it was new."""
    return add(connection, tables.stock_change, values_of(change))


def read_stock(connection: Connection) -> tuple[StockHeld, ...]:
    """Every stock that there is at least one of, by material and id."""
    stock, change = tables.stock, tables.stock_change
    have = func.sum(change.c.by)
    asked = select(stock, have.label("have")).join(change, change.c.stock == stock.c.id).group_by(*stock.c)
    rows = connection.execute(asked.having(have > 0).order_by(stock.c.material, stock.c.id)).mappings()
    return tuple(StockHeld(stock_of(row), row["have"]) for row in rows)


def stock_of(row: Any) -> StockRow:
    """The stock of a row found, by the names of its columns."""
    sizes = {name: Size(row[f"{name}_typed"], (row[f"{name}_num"], row[f"{name}_den"])) for name in _SIZES}
    return StockRow(row["id"], row["material"], **sizes, origin=row["origin"])
