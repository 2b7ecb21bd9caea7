"""The history of one feature: every finding, move and event in order, drawn, with what the control charts see in it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import NamedTuple, overload

from trued.drawing.shapes import Drawing
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.measure.decision import ToleranceLimits
from trued.standing.amounts.amount import amount_said
from trued.standing.charts.chart import history_drawing, history_signals
from trued.standing.feature import bare_name, feature_of, find_feature, full_name, named, said
from trued.standing.feature_status import FeatureStatus
from trued.standing.history.event import EVENTS
from trued.standing.history.history import Adjustment, History, Result, Row
from trued.standing.history.old_names import now_called
from trued.standing.learned.outlier_history import WAITS, ever_aside
from trued.standing.owner import WORK, owner_of
from trued.standing.typed_name import name_typed
from trued.units import Unit
from trued.units.nearest import nearest
from trued.usecases.shop.list_checks import list_checks
from trued.usecases.shop.measured_parts import TAUGHT
from trued.usecases.shop.shop_now import PROOF, ShopNow, history_of, opened, shop_now
from trued.usecases.showing import believed_said
from trued.usecases.standing.move_instructions import in_words


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One row in words.

    kind:     finding, move or event; id: the run's, the move's or the event's.
    value, u: of a finding, or how far a move went, in the feature's unit; None for an event (and for a move's u).
    typed:    the readings, or the amount of a move, as typed.
    aside:    why a finding was set aside; "" while it counts.
    """

    at: datetime
    kind: str
    text: str
    id: str
    value: float | None = None
    u: float | None = None
    typed: tuple[str, ...] = ()
    aside: str = ""


class HistoryLines(Sequence[HistoryLine]):
    """Rows in words, oldest first; each is worded when it is asked for: a page shows sixty of thousands."""

    def __init__(self, rows: Sequence[Row], worded: Callable[[Row], HistoryLine]) -> None:
        self._rows, self._worded = rows, worded

    def __len__(self) -> int:
        return len(self._rows)

    @overload
    def __getitem__(self, at: int) -> HistoryLine: ...
    @overload
    def __getitem__(self, at: slice) -> HistoryLines: ...
    def __getitem__(self, at: int | slice) -> HistoryLine | HistoryLines:
        return HistoryLines(self._rows[at], self._worded) if isinstance(at, slice) else self._worded(self._rows[at])

    def __iter__(self) -> Iterator[HistoryLine]:
        return map(self._worded, self._rows)


class _Found(NamedTuple):
    """A feature's rows, what was typed of each run, and why a run does not count."""

    history: History
    typed: Mapping[str, tuple[str, ...]]
    aside: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class FeatureHistory:
    """`lines` oldest first. `signals`: what the charts see since it was last touched, each a sentence; () is the usual
    thing. standing, drawing: None while it was never found. check, minutes: what finds it, and how long that takes."""

    feature: str
    name: str
    shop: Shop
    now: datetime
    standing: FeatureStatus | None
    lines: HistoryLines
    drawing: Drawing | None
    signals: tuple[str, ...]
    check: str
    minutes: float

    @property
    def unit(self) -> Unit:
        """What sizes are shown in."""
        return self.shop.unit

    @property
    def fixture(self) -> str:
        """The fixture that its check is run with; "" where it is of none."""
        thing = named(self.feature).thing
        return next((f.id for f in self.shop.in_use if f.id == thing and f.kind != "wing"), "")

    @property
    def nothing(self) -> str:
        """What to say while it was never found; "" when it was."""
        if self.standing is not None:
            return ""
        return (
            f"Nothing was found here yet, so nothing is claimed. {self.check} finds it: about {self.minutes:.0f} min."
        )


def feature_history(feature: str, book: Path, *, at: datetime | None = None) -> FeatureHistory:
    """By full name (`sled.fence-angle@0`) or barely (`fence-angle`); InputRefused for a name that this shop has not."""
    return history_in(shop_now(book, at), feature)


def history_in(now: ShopNow, feature: str) -> FeatureHistory:
    """The same of a shop that is read already."""
    standings = {standing.feature: standing for standing in now.standings()}
    full = _full(feature, tuple(standings), now.shop)
    (standing,) = in_words(now, (standings[full],), standings.values()) if full in standings else (None,)
    history, typed, aside = _found(now, full)
    limits = standing.limits if standing is not None else None
    known = find_feature(full)
    check = known.check if known is not None else next(iter(_checks(full)), "")
    return FeatureHistory(
        feature=full,
        name=said(full),
        shop=now.shop,
        now=now.now,
        standing=standing,
        lines=HistoryLines(history.of(full), lambda row: _line(row, full, now.shop, limits, typed, aside)),
        drawing=history_drawing(history, full, limits, now.shop, aside) if standing is not None else None,
        signals=history_signals(history, full, now.shop, _unread(aside)) if standing is not None else (),
        check=check,
        minutes=known.minutes if known is not None else 10.0,
    )


def _unread(aside: Mapping[str, str]) -> tuple[str, ...]:
    """What speaks against itself says nothing on a chart; what others speak against is what a chart is for."""
    return tuple(run for run, why in aside.items() if why == WAITS)


def _full(feature: str, found: tuple[str, ...], shop: Shop) -> str:
    """The one full name that is meant: as it was found here, else as this shop would call it."""
    if feature in found:
        return feature
    feature = now_called("feature", feature)
    if feature in found:
        return feature
    things = {fixture.id for fixture in shop.fixtures}
    parts = named(feature)
    if find_feature(feature) is not None:
        usual = owner_of(feature, shop)
        one = [
            name for name in found if (named(name).thing, named(name).feature) == (parts.thing or usual, parts.feature)
        ]
        full = one[0] if len(one) == 1 and not parts.angle else name_typed(feature, shop)
        if usual == WORK:
            text = f"{said(feature)} is of one piece of work: what was found of one says nothing of the next."
            raise InputRefused.of("feature", feature, text)
        if full in found or not parts.thing or parts.thing in things | {usual}:
            return full
        hint = nearest(feature, found) if found else f"Did you mean {full_name(usual, feature)}?"
    elif found:
        hint = nearest(feature, found)
    else:
        feature_of(feature)
        hint = ""
    raise InputRefused.of("feature", feature, f"{feature!r} was never found here. {hint}")


def _found(now: ShopNow, feature: str) -> _Found:
    """What its checks found, with all moves and events: thousands of runs worked out again, or as they were when the
    book was last asked, where nothing came since."""
    from trued.store.rows import HistoryRows

    checks = _checks(feature)
    with opened(now.path) as book:
        rests_on = (book.came_to(now.now), now.shop, now.instruments, dict(now.known.starts), checks)
        place = (now.path.absolute(), feature)
        known = _LAST.pop(place, None)
        if known is not None and known[0] == rests_on:
            _LAST[place] = known
            return known[1]
        proofs = book.runs(check=PROOF, until=now.now) if named(feature).feature in TAUGHT else ()
        runs = (*(run for check in checks for run in book.runs(check=check, until=now.now)), *proofs)
        moves, events = book.moves(until=now.now), book.events(until=now.now)
        arrived = book.arrivals((*(stored.run for stored in runs), *moves, *events))
        rows = HistoryRows(runs, moves, events, book.answers(until=now.now), arrived)
    history = history_of(rows, now.shop, now.instruments)[0]
    found = _Found(history, {run.run.id: run.as_typed for run in runs}, ever_aside(history, feature, now.known.starts))
    _LAST[place] = rests_on, found
    for oldest in list(_LAST)[:-_MOST_KEPT]:
        _LAST.pop(oldest, None)
    return found


_LAST: dict[tuple[Path, str], tuple[object, _Found]] = {}
"""What was found last, by book and feature, with what it rests on; the one asked for longest ago goes first."""
_MOST_KEPT = 8


def _checks(feature: str) -> tuple[str, ...]:
    return tuple(check.id for check in list_checks() if bare_name(feature) in check.names)


def _line(
    row: Row,
    feature: str,
    shop: Shop,
    limits: ToleranceLimits | None,
    typed: Mapping[str, tuple[str, ...]],
    aside: Mapping[str, str],
) -> HistoryLine:
    known = find_feature(feature)
    if isinstance(row, Result):
        text = f"{row.check}: {believed_said(row.x.value, row.x.u, row.unit, shop.unit, limits, feature)}"
        why = aside.get(row.run, "")
        return HistoryLine(row.at, "finding", text, row.run, row.x.value, row.x.u, typed.get(row.run, ()), why)
    if isinstance(row, Adjustment):
        amount = amount_said(row.amount, known.unit if known is not None else "mm", feature, shop)
        text = f"{row.direction.replace('-', ' ')} by {amount}"
        return HistoryLine(row.at, "move", text, row.id, row.amount, typed=(row.typed,) if row.typed else ())
    text = f"{EVENTS[row.kind].text} ({row.subject})" if row.subject else EVENTS[row.kind].text
    return HistoryLine(row.at, "event", text, row.id)
