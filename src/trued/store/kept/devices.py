"""Paired devices; of a device's key only its SHA-256 is here."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Connection, select, update

from trued.store.kept.append_row import add, columns_of, values_of
from trued.store.rows import DeviceRow
from trued.store.tables import device


def add_device(connection: Connection, row: DeviceRow) -> bool:
    """Whether it was new."""
    return add(connection, device, values_of(row))


def revoke_device(connection: Connection, id: str, at: datetime) -> None:
    """Take its right to write from it; the first time stays."""
    connection.execute(update(device).where(device.c.id == id, device.c.revoked.is_(None)).values(revoked=at))


def read_devices(connection: Connection) -> tuple[DeviceRow, ...]:
    """All of them by name, the revoked ones too."""
    asked = select(*columns_of(device, DeviceRow)).order_by(device.c.name, device.c.id)
    return tuple(DeviceRow(*row) for row in connection.execute(asked))
