"""What follows from a layout for one shop: order, settings, tickets, fits, support."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from trued.equipment.shop import Shop
from trued.job.angles import detents_for
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.expression.tree import PartSize
from trued.job.fits.fit import FitResult, JobResult, judge_job, waiting_fits
from trued.job.groups import CutGroups, default_groups
from trued.job.job import Job
from trued.plan.layout.result import Layout, NoLayout
from trued.plan.not_made import NotMade
from trued.plan.order.cut_groups import groups_of
from trued.plan.order.one_sided import roundings_of
from trued.plan.order.order import Order, order_cuts
from trued.plan.order.scale_settings import settings_of
from trued.plan.problem import (
    Problem,
    problems_of_joints,
    problems_of_not_made,
    problems_of_order,
    problems_of_stations,
)
from trued.plan.stations.station import Station
from trued.plan.tickets.job_cautions import Safety, before_the_rip, first_rip, safety_for, stop_cautions, unlooked
from trued.plan.tickets.lost_parts import lost_parts
from trued.plan.tickets.sled_support import TicketSupport, sled_support
from trued.plan.tickets.split_settings import parted
from trued.plan.tickets.ticket import Ticket, tickets
from trued.standing.cuts.cut_errors import CutErrors
from trued.units import Unit, as_fraction
from trued.usecases.plan.planned import KerfUsed
from trued.usecases.plan.shop import PlanShop, stations_of


@dataclass(frozen=True, slots=True)
class Cutting:
    """What follows from a layout for one shop; `holds`, `whole` and `budget` are None when no shop is known.

    not_made: copies that no station may make. waiting: ids of the fits that rest on them. safety: what the rips rest on
    and nobody has shown right.
    """

    order: Order | None
    tickets: tuple[Ticket, ...]
    groups: CutGroups
    holds: CutErrors | None
    fits: tuple[FitResult, ...]
    support: tuple[TicketSupport, ...]
    problems: tuple[Problem, ...]
    whole: JobResult | None = None
    budget: UncertaintyBudget | None = None
    not_made: tuple[NotMade, ...] = ()
    waiting: tuple[str, ...] = ()
    safety: tuple[Safety, ...] = ()


def cutting_of(job: Job, found: Layout | NoLayout | None, here: PlanShop | None, kerf: KerfUsed, unit: Unit) -> Cutting:
    holds = here.holds(float(kerf.mm)) if here is not None else None
    groups = default_groups(job)
    if not isinstance(found, Layout):
        if here is None or holds is None:
            return Cutting(None, (), groups, holds, (), (), ())
        budget = budget_for(job, holds, groups, here)
        whole = judge_job(budget)
        return Cutting(None, (), groups, holds, whole.fits, (), (), whole, budget)
    if here is None or holds is None:
        return Cutting(None, (), groups, None, (), (), ())
    order = order_cuts(found.used, stations_of(here, job, float(kerf.mm)))
    lost = lost_parts(order, height_length(unit))
    job, waiting = _without(job, lost)
    fits_now = tuple(fit for fit in job.fits if fit not in waiting_fits(job))
    readings = settings_of(found.used, order, holds, roundings_of(job, fits_now))
    groups = CutGroups({**groups.of, **groups_of(found.used, order, readings).of})
    made = tickets(order, readings, unit, _scales(here.shop, holds))
    safety = safety_for(order, here.shop, here.standings)
    against = (
        *problems_of_not_made(lost),
        *problems_of_order(made, parted(job, found.used, order)),
        *problems_of_stations(order, height_length(unit)),
        *_unchecked_problems(made, safety, here),
        *problems_of_joints(job, _forbidden(here)),
    )
    budget = budget_for(job, holds, groups, here)
    whole = judge_job(budget)
    made = _held(made, safety, here)
    support = sled_support(order)
    return Cutting(order, made, groups, holds, whole.fits, support, against, whole, budget, lost, waiting, safety)


def _forbidden(here: PlanShop) -> tuple[str, ...]:
    saws = (shop.saw for shop in (here.shop, here.of_book) if shop is not None)
    return tuple(word for saw in saws if saw is not None for word in saw.maker_forbids or ())


def _without(job: Job, lost: tuple[NotMade, ...]) -> tuple[Job, tuple[str, ...]]:
    """The job with no fit that rests on a part which is not made, and the ids of those fits."""
    gone = {one.part.partition("@")[0] for one in lost}
    waiting = tuple(fit.id for fit in job.fits if gone & {use.part for use in fit.uses if isinstance(use, PartSize)})
    return replace(job, fits=tuple(fit for fit in job.fits if fit.id not in waiting)), waiting


def _unchecked_problems(made: tuple[Ticket, ...], safety: tuple[Safety, ...], here: PlanShop) -> Iterator[Problem]:
    """What was never checked, or not shown right, and the cuts that it stands before."""
    rip = first_rip(made)
    for one in safety:
        yield Problem("never-checked" if one.decision is None else "not-shown", rip, f"{rip}: {one.text}")
    for ticket, text in unlooked(made, here.shop, here.standings):
        yield Problem("never-checked", ticket, f"{ticket}: {text}")


def _scales(shop: Shop, holds: CutErrors) -> dict[Station, Unit]:
    """What the scales are marked in: the unit of the shop, or the other where only that has such a division."""
    return {
        Station.SLED: _unit_of_step(holds.scale_step_mm, shop.unit),
        Station.RIP: _unit_of_step(holds.rip_scale_step_mm, shop.unit),
    }


def _unit_of_step(step_mm: float, usual: Unit) -> Unit:
    fits = {"in": _is_whole(step_mm * 128 / 25.4) or _is_whole(step_mm * 1000 / 25.4), "mm": _is_whole(step_mm * 20)}
    other: Unit = "in" if usual == "mm" else "mm"
    return other if fits[other] and not fits[usual] else usual


def _is_whole(x: float) -> bool:
    return abs(x - round(x)) < 1e-6


def budget_for(job: Job, holds: CutErrors, groups: CutGroups, here: PlanShop) -> UncertaintyBudget:
    """The error budget, with the detents at which mitered frames are cut."""
    detents = detents_for(job, here.shop, here.standings)
    return UncertaintyBudget(job, holds, groups, here.shop.instruments, at_angles=detents)


def _held(made: tuple[Ticket, ...], safety: tuple[Safety, ...], here: PlanShop) -> tuple[Ticket, ...]:
    """Tickets with what was never checked, on the first one that it touches, and with what their stop needs."""
    rip, looked = first_rip(made), unlooked(made, here.shop, here.standings)
    return tuple(
        replace(
            ticket,
            cautions=stop_cautions(ticket, here.shop) + ticket.cautions,
            unchecked=tuple(text for id, text in looked if id == ticket.id)
            + (before_the_rip((one.feature, one.state) for one in safety) if ticket.id == rip else ()),
        )
        for ticket in made
    )


def height_length(unit: Unit) -> Callable[[float], str]:
    """Writes millimetres as a height or a thickness is read off a rule: to 1/32 in, or a millimetre."""
    return "{:.0f} mm".format if unit == "mm" else lambda mm: f"{as_fraction(mm, 32).text} in"


def rough_length(unit: Unit) -> Callable[[float], str]:
    """Writes millimetres for people, roughly: support is no matter of hundredths."""
    return "{:.0f} mm".format if unit == "mm" else lambda mm: f"{mm / 25.4:.1f} in"
