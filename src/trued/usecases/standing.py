"""What is known of the shop now, and what to do next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from trued.measure.decision import Decision, Limits
from trued.shop.event import EVENTS
from trued.shop.feature import FEATURES, find_feature, full_name, said
from trued.shop.shop import Shop
from trued.shop.standing import Do, Standing
from trued.shop.thing import thing_of
from trued.usecases.list_checks import list_ids
from trued.usecases.shop_now import shop_now


@dataclass(frozen=True, slots=True)
class Line:
    """One feature for a person: its name in words, and how many minutes its check takes."""

    standing: Standing
    name: str
    minutes: float


@dataclass(frozen=True, slots=True)
class StandingView:
    """`do_first` is in order: safety, then what is out, then what is stale, then what is not proven. `never` names
    features that were never found here; `unread` runs that can no longer be worked out."""

    shop: Shop
    now: datetime
    lines: tuple[Line, ...]
    do_first: tuple[Line, ...]
    never: tuple[tuple[str, str], ...]
    unread: tuple[str, ...]


def what_stands(book: Path, *, at: datetime | None = None, limits: Mapping[str, Limits] | None = None) -> StandingView:
    """Everything that is believed, from the kept readings, moves and events alone."""
    now = shop_now(book, at)
    lines = tuple(_line(standing) for standing in now.standings(limits))
    waiting = sorted((line for line in lines if _wants_something(line.standing)), key=_urgency)
    return StandingView(now.shop, now.now, lines, tuple(waiting), _never(now.shop, lines), now.left_out)


def _line(standing: Standing) -> Line:
    known = find_feature(standing.feature)
    return Line(standing, said(standing.feature), known.minutes if known is not None else 10.0)


def _wants_something(standing: Standing) -> bool:
    return standing.next is not None and standing.next.do is not Do.LEAVE


def _urgency(line: Line) -> tuple[bool, int, bool, float, str]:
    rank = {Decision.PROVEN_OUT: 0, Decision.NOT_PROVEN: 1, Decision.PROVEN_IN: 2, None: 3}
    s = line.standing
    return not s.safety, rank[s.decision], not s.stale, line.minutes, s.feature


def _never(shop: Shop, lines: tuple[Line, ...]) -> tuple[tuple[str, str], ...]:
    """(feature, check) of what this tool can check and was never checked here."""
    found = {line.standing.feature for line in lines}
    checks = set(list_ids())
    features = ((full_name(thing_of(f.name, shop), f.name), f.check) for f in FEATURES.values() if f.check in checks)
    return tuple(pair for pair in features if pair[0] not in found)


def event_kinds() -> tuple[str, ...]:
    """The kinds of event, for whoever offers them."""
    return tuple(EVENTS)
