"""Small things that several pages say alike: a time, how long ago, and the shape beside a word."""

from __future__ import annotations

from datetime import datetime, timedelta

from trued.words.decisions import Badge

MARKS = {"proven-in": "■", "proven-out": "▲", "not-proven": "◇", None: "·"}
"""A shape for each decision, beside its words."""
SHAPES = {Badge.IN: "■", Badge.OUT: "▲", Badge.MEASURED: "·"}
"""A shape for each badge, beside its words; ◇ for all that is not known."""


def ago(time: timedelta) -> str:
    """`today`, `yesterday`, `12 days ago`, `5 months ago`."""
    days = max(0, time.days)
    if days == 0:
        hours = time.seconds // 3600
        return "just now" if time.seconds < 600 or time.days < 0 else f"{hours} h ago" if hours else "within the hour"
    if days == 1:
        return "yesterday"
    return f"{days} days ago" if days < 60 else f"{days // 30} months ago"


def clock(at: datetime) -> str:
    """A time on this computer's own clock."""
    local = at.astimezone()
    return f"{local.day} {local:%B %Y, %H:%M}"
