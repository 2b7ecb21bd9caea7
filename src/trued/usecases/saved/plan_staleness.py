"""What has happened since a plan was made that touches what its open cuts rest on: rows of the book later than it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from trued.advice.closures import rests_on
from trued.equipment.shop import Shop
from trued.measure.decision import Conformity
from trued.plan.document import PlanDocument, PlanTicket
from trued.plan.stations.station import Station
from trued.standing.feature import full_name, named, said
from trued.standing.history.event import EVENTS
from trued.standing.owner import owner_of
from trued.usecases.plan.words import small
from trued.usecases.shop.list_checks import list_checks
from trued.usecases.shop.measured_parts import TAUGHT
from trued.usecases.shop.shop_now import PROOF, ShopNow, read_now

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.rows import HistoryRows, PlanRow

_SLED = ("stop-offset", "stop-slope", "stop-repeat", "fence-angle", "bar-play", "bar-swing")
_FENCE = ("rip-offset", "rip-setting", "rip-repeat")
_KERF_MM = 0.05
"""So far a kerf may move before a layout is worth making anew: the blade's usual run-out, common practice."""


def since_plan(kept: Book, book: Path, row: PlanRow, plan: PlanDocument, done: set[str]) -> str:
    """One or two sentences; "" where nothing has touched the plan, or all of it is cut."""
    tickets = [ticket for ticket in plan.order if ticket.id not in done]
    later = kept.history(since=row.made)
    if not tickets or not (later.runs or later.moves or later.events):
        return ""
    now = read_now(kept, book)
    used = _used(tickets, now.shop)
    found = (*_events(later, used), *_moves(later, used), *_findings(later, used, now, plan, tickets))
    if not found:
        return ""
    return f"Since this was planned: {'; '.join(dict.fromkeys(found))}. Plan again before you cut."


def _used(tickets: Sequence[PlanTicket], shop: Shop) -> tuple[str, ...]:
    """Full names of the features that these cuts rest on."""
    stations = {ticket.station for ticket in tickets}
    bare = ["kerf"]
    if Station.SLED in stations:
        bare += _SLED
    if any(ticket.station == Station.SLED and ticket.text.startswith("Rip") for ticket in tickets):
        bare += rests_on(on_sled=True)
    if Station.RIP in stations:
        bare += (*_FENCE, *rests_on(on_sled=False))
    return tuple(dict.fromkeys(full_name(owner_of(name, shop), name) for name in bare))


def _events(later: HistoryRows, used: Sequence[str]) -> Iterator[str]:
    for row in later.events:
        event = EVENTS.get(row.kind)
        if event is not None and any(event.doubt_of(named(name), row.subject) is not None for name in used):
            yield event.text[0].lower() + event.text[1:]


def _moves(later: HistoryRows, used: Sequence[str]) -> Iterator[str]:
    for row in later.moves:
        if row.feature in used:
            yield f"{said(row.feature)} was turned"


def _findings(
    later: HistoryRows, used: Sequence[str], now: ShopNow, plan: PlanDocument, tickets: Sequence[PlanTicket]
) -> Iterator[str]:
    """What was found anew and is out now, or is so far from what was planned with that a setting would be another."""
    again = {run.run.check for run in later.runs}
    features = {feature for check in list_checks() if check.id in again for feature in check.names}
    features |= set(TAUGHT) if PROOF in again else set()
    standings = {standing.feature: standing for standing in now.standings()}
    for name in used:
        here = standings.get(name)
        if here is not None and here.decision is Conformity.PROVEN_OUT and named(name).feature in features:
            yield f"{said(name)} is out of tolerance"
    planned = plan.kerf.mm
    holds = now.holds(kerf_mm=planned)
    if "kerf" in features and abs(holds.kerf.value - planned) > _KERF_MM:
        yield f"the kerf was found to be {small(holds.kerf.value, plan.unit)}"
    for station, feature, scale, step in (
        (Station.SLED, "stop-offset", holds.length_at, holds.scale_step_mm),
        (Station.RIP, "rip-offset", lambda mm: holds.rip_offset + mm, holds.rip_scale_step_mm),
    ):
        off = [
            scale(set_to).value - wanted - (ticket.remainder_mm or 0.0)
            for ticket in tickets
            if ticket.station == station
            and (set_to := ticket.setting_mm) is not None
            and (wanted := ticket.wanted_mm) is not None
        ]
        most = max(off, key=abs, default=0.0)
        if feature in features and abs(most) > step / 2:
            way = "over" if most > 0 else "under"
            scale_said = "stop scale" if station is Station.SLED else "rip scale"
            much = small(abs(most), plan.unit)
            yield f"the {scale_said} was measured again, the planned sizes would come out {much} {way}"
