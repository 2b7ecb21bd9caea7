"""A feature that no filter follows: its findings since it was last touched, pooled; doubt added for what came after."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from trued.measure.estimate import Source, Uncertain, linear
from trued.measure.scatter import Scatter
from trued.shop.event import EVENTS
from trued.shop.feature import Feature, find_feature, said
from trued.shop.follow import DAY
from trued.shop.history import Moved, Observed, Row
from trued.shop.pooled import pooled, pooled_pair
from trued.shop.response import ORDINARY
from trued.shop.shared import own_run


@dataclass(frozen=True, slots=True)
class Epoch:
    """The findings of a feature that count, by run, and what came after the last of them."""

    last: Observed
    since: datetime
    findings: Mapping[str, Uncertain]
    touched: tuple[str, ...] = ()
    moved: bool = False
    doubts: tuple[tuple[str, float], ...] = field(default=(), repr=False)
    shift: float = 0.0

    @property
    def fresh(self) -> bool:
        """Whether nothing was turned and nothing happened since the last finding."""
        return not (self.touched or self.moved)


def epoch_of(rows: Sequence[Row], scatter: Callable[[str], Scatter | None]) -> Epoch | None:
    """What counts of a feature's rows, which are in order; None when it was never found."""
    epoch: Epoch | None = None
    for row in rows:
        if isinstance(row, Observed):
            epoch = _after_finding(epoch, row, own_run(row.x, row.run, scatter(row.check)))
        elif epoch is not None:
            epoch = _after_touch(epoch, row)
    return epoch


def _after_finding(epoch: Epoch | None, row: Observed, x: Uncertain) -> Epoch:
    if epoch is None or not epoch.fresh:
        return Epoch(row, row.at, {row.run: x})
    return Epoch(row, epoch.since, {**epoch.findings, row.run: x})


def _after_touch(epoch: Epoch, row: Row) -> Epoch:
    last, since, findings = epoch.last, epoch.since, epoch.findings
    if isinstance(row, Moved):
        known = find_feature(row.feature)
        settling = known.actuator.settling if known is not None and known.actuator is not None else 0.0
        doubt = ("a move not yet measured", math.hypot(ORDINARY.u * row.amount, settling))
        shift = epoch.shift - row.u
        return Epoch(last, since, findings, epoch.touched, True, (*epoch.doubts, doubt), shift)
    assert not isinstance(row, Observed)  # noqa: S101 -- the caller takes those
    event = EVENTS[row.kind]
    doubts = (*epoch.doubts, (event.text, row.stales(last.feature) or 0.0))
    return Epoch(last, since, findings, (*epoch.touched, event.text), epoch.moved, doubts, epoch.shift)


def plain(epoch: Epoch, now: datetime, known: Feature | None) -> Uncertain:
    """The feature now: pooled findings, moved as told, with a source for each doubt since."""
    return _doubted(pooled(list(epoch.findings.values())), epoch, now, known)


def plain_pair(
    one: tuple[Epoch, Feature | None], two: tuple[Epoch, Feature | None], now: datetime
) -> tuple[Uncertain, Uncertain]:
    """Two features that their runs find together, with the covariance that they have."""
    first, second = pooled_pair(one[0].findings, two[0].findings)
    return _doubted(first, one[0], now, one[1]), _doubted(second, two[0], now, two[1])


def _doubted(x: Uncertain, epoch: Epoch, now: datetime, known: Feature | None) -> Uncertain:
    feature = epoch.last.feature
    doubts = list(epoch.doubts)
    days = max(0.0, (now - epoch.last.at).total_seconds() / DAY)
    if known is not None and known.drift * days > 0.0:
        doubts.append(("time since it was found", known.drift * math.sqrt(days)))
    key = f"since:{feature}"
    terms = [(1.0, x)]
    for number, (text, u) in enumerate(doubts):
        terms.append((1.0, Uncertain.of(0.0, Source(f"{key}:{number}", f"{said(feature)}: {text}", u))))
    return linear(x.value + epoch.shift, *terms)
