"""Record what happened to the shop, and say what it makes doubtful."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.standing.feature import named
from trued.standing.history.event import EVENTS, Event, event_of
from trued.standing.history.history import ShopEvent
from trued.standing.history.old_names import now_called
from trued.store.rows import EventRow
from trued.units.nearest import nearest
from trued.usecases.questions.asking import keep_answers, settle
from trued.usecases.questions.clock import of_features, time_asked
from trued.usecases.questions.once import place_of_row
from trued.usecases.shop.list_checks import one_check
from trued.usecases.shop.shop_now import opened, read_now

if TYPE_CHECKING:
    from trued.store.kept.standing_rows import Row


@dataclass(frozen=True, slots=True)
class EventView:
    """The event as kept. `stale` names the features of this shop that are to be rechecked."""

    id: str
    event: Event
    subject: str
    at: datetime
    stale: tuple[str, ...]

    @property
    def check_now(self) -> tuple[tuple[str, float], ...]:
        """The check that comes before any cut, with its minutes: of the knife, where the event puts that out of use."""
        if not self.event.caution or self.event.doubt_of(named("knife")) is None:
            return ()
        return (("knife", one_check("knife").minutes),)


def list_events() -> tuple[Event, ...]:
    """Everything that may happen, in the order in which a person is asked."""
    return tuple(EVENTS.values())


def record_event(
    kind: str,
    subject: str,
    book: Path,
    *,
    at: datetime | None = None,
    device: str = "",
    key: str | None = None,
    answers: Sequence[str] = (),
) -> EventView:
    """Keep it; `subject` is the thing it happened to, empty for all that the event can mean.

    `key` is the event's id when the writer has made one: the same key twice is one event, and what differs under it
    is asked about. `answers` are those to what this call asked before (`Asks`).
    """
    kind = now_called("event", kind)
    event = event_of(kind)
    with opened(book) as kept:
        now = read_now(kept, book, at)
        _can_be_meant(event, subject, now.shop)
        content = (kind, subject)
        place = place_of_row(kept, key, repr(content), EventRow, lambda row: _content(row) == content)
        if isinstance(place.there, EventRow):
            row = place.there
        else:
            doubted = [
                s.feature for s in now.standings() if ShopEvent(now.now, kind, subject).stales(s.feature) is not None
            ]
            time = time_asked(kept, at, now.now, of_features(doubted))
            settled = settle((*place.questions, *time.questions), answers)
            row = EventRow(place.id, kind, time.moment(settled), subject, device or None)
            if isinstance(slip := place.instead_of(settled), EventRow):
                row = replace(row, at=at or slip.at, supersedes=slip.id)
            time.mend(kept, settled)
            kept.add_event(row)
            keep_answers(kept, settled, row.id, now.now, device)
        after = read_now(kept, book, None if at is None else max(at, row.at))
        stale = tuple(
            s.feature for s in after.standings() if event.text in s.stale or any(event.text in t for t in s.stale)
        )
        return EventView(row.id, event, row.subject, row.at, stale)


def _content(row: Row) -> tuple[str, str] | None:
    return (row.kind, row.subject) if isinstance(row, EventRow) else None


def things_of(event: Event, shop: Shop) -> tuple[str, ...]:
    """What of this shop it may have happened to."""
    saw, blade = shop.saw, shop.blade
    of_kind = {
        "saw": (saw.id,) if saw is not None else (),
        "blade": (blade.id,) if blade is not None else (),
        "fixture": tuple(f.id for f in shop.in_use if f.kind != "wing"),
        "wing": tuple(f.id for f in shop.in_use if f.kind == "wing"),
        "instrument": tuple(i.id for i in shop.instruments),
    }
    return of_kind.get(event.about, ())


def _can_be_meant(event: Event, subject: str, shop: Shop) -> None:
    things = things_of(event, shop)
    if subject and subject not in things:
        hint = nearest(subject, things) if things else "Leave it out: there is nothing to tell apart."
        raise InputRefused.of("subject", subject, f"{subject!r} can't have had that. {hint}")
