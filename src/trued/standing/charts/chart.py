"""A feature's history as a drawing: every finding with its uncertainty, every move, every event, and the limits."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path
from trued.equipment.shop import Shop
from trued.measure.decision import ToleranceLimits
from trued.standing.amounts.amount import amount_said
from trued.standing.charts.chart_signals import signals, untouched
from trued.standing.feature import find_feature, said
from trued.standing.history.event import EVENTS
from trued.standing.history.history import Adjustment, History, Result, Row, ShopEvent

Shape = Line | Path | Arrow | Label

WIDTH, HEIGHT, MARK = 12.0, 8.0, 0.18
ROOM = 0.06  # of the height, free above the highest and below the lowest
LONGEST = 20  # signs of a label at a limit
MOST = 60  # rows; a longer history shows its newest


def history_signals(
    history: History, feature: str, shop: Shop | None = None, unread: Collection[str] = ()
) -> tuple[str, ...]:
    """What the control charts see in the findings since it was last touched; not in `unread`, which waits."""
    kind = _kind(feature)
    rows = [row for row in history.of(feature) if not isinstance(row, Result) or row.run not in unread]
    return tuple(signals(untouched(rows), lambda size: _size(size, kind, shop)))


def history_drawing(
    history: History,
    feature: str,
    limits: ToleranceLimits | None = None,
    shop: Shop | None = None,
    aside: Collection[str] = (),
) -> Drawing:
    """In order from left to right, upward what is positive. `aside`: runs that were set aside.

    ValueError for a feature that was never found.
    """
    rows = _newest(history.of(feature))
    if not rows:
        raise ValueError(f"{feature} was never found")
    chart = _Chart(rows, feature, limits, shop, aside)
    title = f"History of {said(feature)}"
    return Drawing(title, chart.told(), tuple(chart.shapes()))


def _newest(rows: Sequence[Row]) -> Sequence[Row]:
    """The newest, with at least one finding among them; () when there is none at all."""
    last = max((i for i, row in enumerate(rows) if isinstance(row, Result)), default=None)
    if last is None:
        return ()
    first = max(0, len(rows) - MOST)
    return rows[first:] if last >= first else (rows[last], *rows[first + 1 :])


@dataclass(frozen=True, slots=True)
class _Chart:
    """The rows to draw. Heights are in units of the feature until `up` turns them into those of the drawing."""

    rows: Sequence[Row]
    feature: str
    limits: ToleranceLimits | None
    shop: Shop | None
    aside: Collection[str]

    @property
    def ends(self) -> tuple[float, ...]:
        limits = self.limits
        return tuple(end for end in (limits.low, limits.high) if end is not None) if limits is not None else ()

    @property
    def with_zero(self) -> bool:
        """A feature that can be right has a zero that means it; one like the kerf has only its own size."""
        known = find_feature(self.feature)
        return self.limits is not None or (known is not None and bool(known.limits or known.directions))

    def moves(self) -> dict[int, tuple[float, float]]:
        """By place in the rows: from where it was taken to stand, to where it was told to go."""
        at, ways = 0.0, {}
        for place, row in enumerate(self.rows):
            if isinstance(row, Result):
                at = row.x.value
            elif isinstance(row, Adjustment):
                ways[place] = at, at - row.u
                at -= row.u
        return ways

    def span(self) -> tuple[float, float]:
        """The lowest and the highest that is drawn."""
        heights = [*self.ends, *(end for way in self.moves().values() for end in way)]
        if self.with_zero:
            heights.append(0.0)
        for row in self.rows:
            if isinstance(row, Result):
                heights += [row.x.value - row.x.u, row.x.value + row.x.u]
        return min(heights), max(heights)

    def shapes(self) -> Iterator[Shape]:
        low, high = self.span()
        scale = HEIGHT * (1.0 - 2.0 * ROOM) / max(high - low, 1e-12)
        zero = 0.0 if self.with_zero else 0.5 * (low + high)

        def up(value: float) -> float:
            return (value - zero) * scale

        bottom, top = up(low) - ROOM * HEIGHT, up(high) + ROOM * HEIGHT
        yield from (Line((0.0, bottom), end, "axis") for end in ((0.0, top), (WIDTH, bottom)))
        if self.with_zero:
            yield Line((0.0, 0.0), (WIDTH, 0.0), "true")
            yield Label((0.0, 0.32), "0", "note", "start")
        for end in self.ends:
            yield Line((0.0, up(end)), (WIDTH, up(end)), "limit")
        step, moves, letter = WIDTH / (len(self.rows) + 1), self.moves(), iter(_letters())
        mark = min(MARK, 0.45 * step)
        for place, row in enumerate(self.rows):
            x = (place + 1) * step
            if isinstance(row, Result):
                yield from _finding(x, up(row.x.value), row.x.u * scale, mark, aside=row.run in self.aside)
            elif isinstance(row, Adjustment):
                start, end = moves[place]
                yield Arrow((x, up(start)), (x, up(end)), "move")
            else:
                yield Line((x, bottom), (x, top), "hidden", dashed=True)
                yield Label((x, top + 0.3), next(letter), "letter")
        for end in self.ends:
            yield Label((WIDTH, up(end) + 0.32), self._limit(end), "limit", "end")
        if not self.ends:
            yield self._last(step, up)
        yield from self._days(step, bottom - 0.6)

    def _last(self, step: float, up: Callable[[float], float]) -> Label:
        """The size of the last finding, where no limit tells how high a height is."""
        place = max(i for i, row in enumerate(self.rows) if isinstance(row, Result))
        last = self.rows[place]
        value = last.x.value if isinstance(last, Result) else 0.0
        return Label(((place + 1) * step, up(value) + 0.5), self._signed(value), "found", "end")

    def _days(self, step: float, y: float) -> Iterator[Shape]:
        first, last = self.rows[0].at, self.rows[-1].at
        if first.date() == last.date():
            yield Label((WIDTH / 2, y), f"{first:%Y-%m-%d}", "note")
            return
        yield Label((step, y), f"{first:%Y-%m-%d}", "note", "start")
        yield Label((len(self.rows) * step, y), f"{last:%Y-%m-%d}", "note", "end")

    def _signed(self, value: float) -> str:
        kind = _kind(self.feature)
        one_way = self.limits is None or self.limits.low is None or self.limits.low >= 0.0
        sign = "" if value == 0.0 else "-" if value < 0.0 else "" if one_way else "+"
        return f"{sign}{_size(value, kind, self.shop)}"

    def _limit(self, end: float) -> str:
        """On one line; a unit that is too long for that is told below alone."""
        text = f"limit {self._signed(end)}"
        return text if len(text) <= LONGEST else " ".join(text.split(" ")[:2])

    def told(self) -> str:
        """What is drawn, and what each sign means."""
        found = [row for row in self.rows if isinstance(row, Result)]
        moves = sum(isinstance(row, Adjustment) for row in self.rows)
        events = sum(isinstance(row, ShopEvent) for row in self.rows)
        last = found[-1]
        more = [_many(count, what) for count, what in ((moves, "move"), (events, "event")) if count]
        counted = " and ".join([", ".join([_many(len(found), "finding"), *more[:-1]]), *more[-1:]])
        parts = [f"{counted}; the last finding was {self._signed(last.x.value)} on {last.at:%Y-%m-%d}."]
        parts.append("From left to right in order; each diamond a finding, its bar one standard uncertainty each way.")
        if self.ends:
            ends = " and ".join(self._signed(end) for end in self.ends)
            parts.append(
                f"{'A dashed line is the limit' if len(self.ends) == 1 else 'Dashed lines are the limits'}, {ends}."
            )
        if moves:
            parts.append("An arrow is what was turned, from where it was last known to where it was told to go.")
        if any(row.run in self.aside for row in found):
            parts.append("A dashed diamond was set aside.")
        happened = (row for row in self.rows if isinstance(row, ShopEvent))
        parts += [
            f"{name}: {EVENTS[row.kind].text}, {row.at:%Y-%m-%d}."
            for name, row in zip(_letters(), happened, strict=False)
        ]
        return " ".join(parts)


def _kind(feature: str) -> str:
    known = find_feature(feature)
    return known.unit if known is not None else "mm"


def _size(value: float, kind: str, shop: Shop | None) -> str:
    """Without a sign, and without what it is at the screw or in degrees; a slope to the last digit that counts here."""
    if kind == "rad" and shop is not None and shop.unit == "mm":
        return f"{300.0 * abs(value):.3f} mm per 300 mm"
    return amount_said(value, kind, "", shop).partition(" (")[0]


def _finding(x: float, y: float, u: float, mark: float, *, aside: bool) -> Iterator[Shape]:
    corners = ((x - mark, y), (x, y + mark), (x + mark, y), (x, y - mark))
    yield Line((x, y - u), (x, y + u), "measure")
    yield Path(corners, "before" if aside else "found")


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _letters() -> list[str]:
    return [chr(ord("A") + i) if i < 26 else f"{chr(ord('A') + i % 26)}{i // 26}" for i in range(MOST)]
