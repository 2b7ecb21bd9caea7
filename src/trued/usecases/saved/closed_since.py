"""What must not be cut any more of a kept plan: a station that the shop as it is now known closes for its open cuts."""

from __future__ import annotations

from collections.abc import Callable, Collection
from datetime import UTC, datetime
from pathlib import Path

from trued.plan.document import PlanDocument, PlanTicket
from trued.plan.layout.cut_tree import Axis
from trued.plan.stations.station import Station
from trued.usecases.plan.shop import plan_shop, reach_now

Closing = Callable[[PlanTicket], str]
"""Why a cut is closed; "" where it is not."""

_ON_SAW = (Station.SLED, Station.RIP)
_SLED = ("maker-forbids", "metal", "blade", "insert", "no-sled")
_RIPS = ("knife", "blade", "insert", "safety-out")
"""Codes of bans, by what they close."""


def closed_since(plan: PlanDocument, book: Path, done: Collection[str], at: datetime | None = None) -> Closing:
    """The same rules that a plan made now goes by: nothing that was typed since the plan opens what they close."""
    if not any(cut.station in _ON_SAW and cut.id not in done for cut in plan.order):
        return _open
    here = plan_shop(book, None, at or datetime.now(UTC))
    if here is None:
        return _open
    reach, bans = reach_now(here, plan.kerf.mm), here.bans(plan.kerf.mm)

    def said(*codes: str) -> str:
        texts = " ".join(dict.fromkeys(ban.text for ban in bans if ban.code in codes))
        return f"{texts} Plan the job again." if texts else "This shop closes it now. Plan the job again."

    def closing(cut: PlanTicket) -> str:
        if cut.station == Station.RIP:
            return "" if reach.fence else said(*_RIPS)
        if cut.station == Station.SLED and not reach.sled:
            return said(*_SLED)
        if cut.station == Station.SLED and cut.work.run == Axis.ALONG and not reach.sled_rips:
            return said(*_RIPS)
        return ""

    return closing


def _open(cut: PlanTicket) -> str:
    del cut
    return ""
