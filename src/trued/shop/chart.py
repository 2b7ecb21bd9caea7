"""A feature's history as a drawing: every finding with its uncertainty, every move, every event, and the limits."""

from __future__ import annotations

from collections.abc import Sequence

from trued.measure.decision import Limits
from trued.shapes import Arrow, Drawing, Label, Line, Path
from trued.shop.amount import amount_said
from trued.shop.event import EVENTS
from trued.shop.feature import find_feature, said
from trued.shop.history import Happened, History, Moved, Observed, Row
from trued.shop.shop import Shop
from trued.shop.signal import signals, untouched

Shape = Line | Path | Arrow | Label

STEP, HEIGHT, MARK = 1.0, 8.0, 0.18
MOST = 60  # rows; a longer history shows its newest


def history_signals(history: History, feature: str, shop: Shop | None = None) -> tuple[str, ...]:
    """What the control charts see in the findings since it was last touched."""
    kind = _kind(feature)
    return tuple(signals(untouched(history.of(feature)), lambda size: amount_said(size, kind, feature, shop)))


def history_drawing(
    history: History, feature: str, limits: Limits | None = None, shop: Shop | None = None, aside: Sequence[str] = ()
) -> Drawing:
    """In order from left to right, upward what is positive. `aside`: runs that were set aside.

    ValueError for a feature that was never found.
    """
    rows = history.of(feature)[-MOST:]
    found = [row for row in rows if isinstance(row, Observed)]
    if not found:
        raise ValueError(f"{feature} was never found")
    high = max(_reach(found, limits), 1e-12)
    shapes = [*_frame(len(rows), limits, high)]
    letter = iter(_letters())
    legend = []
    for place, row in enumerate(rows):
        x = (place + 1) * STEP
        if isinstance(row, Observed):
            shapes += _finding(x, row, high, row.run in aside)
        elif isinstance(row, Moved):
            shapes.append(_move(x, row, high))
        else:
            name = next(letter)
            legend.append(f"{name}: {EVENTS[row.kind].text}, {row.at:%Y-%m-%d}.")
            shapes += _event(x, name)
    shapes += _days(rows)
    return Drawing(f"History of {said(feature)}", _told(rows, found, feature, shop, legend), tuple(shapes))


def _kind(feature: str) -> str:
    known = find_feature(feature)
    return known.unit if known is not None else "mm"


def _reach(found: Sequence[Observed], limits: Limits | None) -> float:
    ends = [abs(end) for end in (limits.low, limits.high) if end is not None] if limits is not None else []
    return max([*ends, *(abs(row.x.value) + row.x.u for row in found)])


def _frame(rows: int, limits: Limits | None, high: float) -> list[Shape]:
    right = (rows + 1) * STEP
    shapes: list[Shape] = [Line((0.0, -HEIGHT / 2), (0.0, HEIGHT / 2), "axis"), Line((0.0, 0.0), (right, 0.0), "true")]
    for end in (limits.low, limits.high) if limits is not None else ():
        if end is not None:
            y = _up(end, high)
            shapes += [Line((0.0, y), (right, y), "limit"), Label((right + 0.2, y), "limit", "limit", "start")]
    return shapes


def _up(value: float, high: float) -> float:
    return max(-1.0, min(1.0, value / high)) * HEIGHT / 2


def _finding(x: float, row: Observed, high: float, aside: bool) -> list[Shape]:
    y, u = _up(row.x.value, high), _up(row.x.u, high)
    corners = ((x - MARK, y), (x, y + MARK), (x + MARK, y), (x, y - MARK))
    bar = Line((x, y - u), (x, y + u), "measure")
    return [bar, Path(corners, "before" if aside else "found")]


def _move(x: float, row: Moved, high: float) -> Shape:
    """Down for the move that lowers the feature's value, as long as it was told."""
    return Arrow((x, _up(row.u, high) / 2), (x, -_up(row.u, high) / 2), "move")


def _event(x: float, name: str) -> list[Shape]:
    return [
        Line((x, -HEIGHT / 2), (x, HEIGHT / 2), "hidden", dashed=True),
        Label((x, HEIGHT / 2 + 0.3), name, "letter"),
    ]


def _days(rows: Sequence[Row]) -> list[Shape]:
    ends = {1: rows[0], len(rows): rows[-1]}
    return [
        Label((place * STEP, -HEIGHT / 2 - 0.6), f"{row.at:%Y-%m-%d}", "note", "start" if place == 1 else "end")
        for place, row in ends.items()
    ]


def _letters() -> list[str]:
    return [chr(ord("A") + i) if i < 26 else f"{chr(ord('A') + i % 26)}{i // 26}" for i in range(MOST)]


def _told(
    rows: Sequence[Row], found: Sequence[Observed], feature: str, shop: Shop | None, legend: Sequence[str]
) -> str:
    moves = sum(isinstance(row, Moved) for row in rows)
    events = sum(isinstance(row, Happened) for row in rows)
    last = found[-1]
    sign = "-" if last.x.value < 0.0 else "+"
    size = amount_said(last.x.value, _kind(feature), feature, shop)
    text = (
        f"{len(found)} findings, {moves} moves and {events} events; the last finding was {sign}{size} on "
        f"{last.at:%Y-%m-%d}."
    )
    return " ".join((text, *legend))
