"""A planned job, as a value for every surface."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from pathlib import Path

from trued.equipment.shop import Shop
from trued.job.fits.fit import FitResult, JobResult
from trued.job.fits.tolerance_allocation import AllocatedTolerance, CutToFit
from trued.job.groups import CutGroups
from trued.job.job import Job
from trued.plan.check_priority import CheckPriority
from trued.plan.layout.result import Layout
from trued.plan.not_made import NotMade
from trued.plan.order.order import Order
from trued.plan.problem import Problem
from trued.plan.tickets.job_cautions import Safety
from trued.plan.tickets.sled_support import TicketSupport
from trued.plan.tickets.ticket import Ticket
from trued.units import Unit


@dataclass(frozen=True, slots=True)
class KerfUsed:
    """The kerf that the layout was made with, and where it comes from; `assumed`: nobody has measured it here."""

    mm: Fraction
    source: str
    assumed: bool


@dataclass(frozen=True, slots=True)
class FitView:
    """One fit: what it is meant to come to, its limits, and what it is expected to come to (None: no shop is known)."""

    name: str
    meant_mm: float
    limits_mm: tuple[float | None, float | None]
    expected: FitResult | None


@dataclass(frozen=True, slots=True)
class PlanView:
    """The plan of a job.

    layout, order: None when there is no layout; `problems` says why.
    support:       None when no shop is known.
    assumed, stale: features that rest on common practice only, and those that something has made doubtful.
    groups:        which setting each copy was cut at.
    whole:         whether it all goes together, from the same draws as the fits; None when no shop is known or parts
                   are short of stock.
    sheets:        files that were written. kept, version: the id of the plan in its book and its number there;
                   "" when no book was named.
    not_made:      parts that no station may make as things are; they are in no ticket.
    """

    job: Job
    made: datetime
    unit: Unit
    seed: int
    kerf: KerfUsed
    shop: Shop | None
    layout: Layout | None
    order: Order | None
    tickets: tuple[Ticket, ...]
    fits: tuple[FitView, ...]
    true_first: tuple[CheckPriority, ...]
    do_not_bother: tuple[str, ...]
    safety: tuple[Safety, ...]
    support: tuple[TicketSupport, ...] | None
    cautions: tuple[str, ...]
    problems: tuple[Problem, ...]
    assumed: tuple[str, ...] = ()
    stale: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    sheets: tuple[Path, ...] = ()
    kept: str = ""
    version: str = ""
    groups: CutGroups | None = None
    whole: JobResult | None = None
    first_parts: JobResult | None = None
    needed: tuple[AllocatedTolerance, ...] = ()
    cut_to_fit: tuple[CutToFit, ...] = ()
    not_made: tuple[NotMade, ...] = ()

    @property
    def not_good(self) -> bool:
        """Whether something stands against it that a strict call counts."""
        return any(problem.not_good for problem in self.problems)
