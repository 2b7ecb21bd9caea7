"""The history of one feature: every finding, move and event in order, drawn, with what the control charts see in it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from trued.errors import InputRefused
from trued.shapes import Drawing
from trued.shop.amount import amount_said
from trued.shop.chart import history_drawing, history_signals
from trued.shop.event import EVENTS
from trued.shop.feature import find_feature, said
from trued.shop.history import Moved, Observed, Row
from trued.shop.nearest import nearest
from trued.shop.shop import Shop
from trued.shop.standing import Standing
from trued.usecases.shop_now import ShopNow, shop_now


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One row in words. kind: finding, move or event; id: the run's, the move's or the event's."""

    at: datetime
    kind: str
    text: str
    id: str


@dataclass(frozen=True, slots=True)
class FeatureHistory:
    """`signals`: what the charts see since it was last touched, each a sentence; () is the usual thing."""

    feature: str
    name: str
    standing: Standing
    lines: tuple[HistoryLine, ...]
    drawing: Drawing
    signals: tuple[str, ...]


def feature_history(feature: str, book: Path, *, at: datetime | None = None) -> FeatureHistory:
    """By full name (`sled.fence-angle@0`); InputRefused for a feature that was never found in this book."""
    return history_in(shop_now(book, at), feature)


def history_in(now: ShopNow, feature: str) -> FeatureHistory:
    """The same of a shop that is read already."""
    standings = {standing.feature: standing for standing in now.standings()}
    if feature not in standings:
        hint = nearest(feature, tuple(standings)) if standings else "Nothing was found in this book yet."
        raise InputRefused.of("feature", feature, f"{feature!r} was never found here. {hint}")
    standing = standings[feature]
    return FeatureHistory(
        feature=feature,
        name=said(feature),
        standing=standing,
        lines=tuple(_line(row, feature, now.shop) for row in now.history.of(feature)),
        drawing=history_drawing(now.history, feature, standing.limits, now.shop, now.set_aside(feature)),
        signals=history_signals(now.history, feature, now.shop),
    )


def _line(row: Row, feature: str, shop: Shop) -> HistoryLine:
    known = find_feature(feature)
    unit = known.unit if known is not None else "mm"
    if isinstance(row, Observed):
        sign = "-" if row.x.value < 0.0 else "+"
        text = f"{row.check}: {sign}{amount_said(row.x.value, unit, feature, shop)}, u {_size(row.x.u, unit, shop)}"
        return HistoryLine(row.at, "finding", text, row.run)
    if isinstance(row, Moved):
        return HistoryLine(row.at, "move", f"{row.direction} by {amount_said(row.amount, unit, feature, shop)}", row.id)
    return HistoryLine(row.at, "event", EVENTS[row.kind].text, row.id)


def _size(u: float, unit: str, shop: Shop) -> str:
    return amount_said(u, unit, "", shop)
