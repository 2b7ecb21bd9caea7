"""What carries the cuts of a plan that are made on the sled: what the sums found for each, its first steps counted."""

from __future__ import annotations

from dataclasses import dataclass

from trued.plan.order.order import Order
from trued.plan.stations.station import Station
from trued.plan.support.support import SupportFinding
from trued.plan.tickets.ticket import ticket_ids


@dataclass(frozen=True, slots=True)
class TicketSupport:
    """The verdict for one cut on the sled; `finding` is None where a fact lacks, and `lacks` says which."""

    ticket: str
    finding: SupportFinding | None
    lacks: str = ""


def sled_support(order: Order) -> tuple[TicketSupport, ...]:
    """Support of every cut on the sled, in the order of cutting; work on the bare table has its middle over it."""
    number = ticket_ids(order)
    return tuple(
        TicketSupport(number[done.index], done.task.ruling.finding, done.task.ruling.waits)
        for done in order.cuts
        if done.task.key[0] is Station.SLED and (done.task.ruling.finding is not None or done.task.ruling.waits)
    )
