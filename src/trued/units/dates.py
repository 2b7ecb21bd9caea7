"""Dates as they are read in the shop."""

from __future__ import annotations

from datetime import date, datetime

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day(when: date) -> str:
    """`Nov 30, 2026`, whatever the language of this computer."""
    return f"{_MONTHS[when.month - 1]} {when.day}, {when.year}"


def moment(when: datetime) -> str:
    """`Nov 30, 2026, 21:16`."""
    return f"{day(when)}, {when:%H:%M}"
