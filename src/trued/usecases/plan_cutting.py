"""What follows from a layout for one shop: order, settings, tickets, fits, support."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from trued.job.budget import Budget
from trued.job.fit import FitResult, JobResult, judge_job, waiting_fits
from trued.job.groups import CutGroups, default_groups
from trued.job.job import Job, Method
from trued.job.kinds.mitres import Mitres
from trued.plan.cut_groups import groups_of
from trued.plan.job_cautions import stop_cautions
from trued.plan.one_sided import roundings_of
from trued.plan.order import Order, order_cuts
from trued.plan.problem import Problem, problems_of_order, support_words
from trued.plan.readings import readings_of
from trued.plan.result import Layout, NoLayout
from trued.plan.sled_support import TicketSupport, sled_support
from trued.plan.station import Station
from trued.plan.ticket import Ticket, tickets
from trued.plan.together import parted
from trued.shop.capability import Capability, capability
from trued.shop.feature import named
from trued.shop.shop import Shop
from trued.units import Unit
from trued.usecases.plan_shop import PlanShop, stations_of
from trued.usecases.plan_view import KerfUsed


@dataclass(frozen=True, slots=True)
class Cutting:
    """What follows from a layout for one shop; `holds`, `whole` and `budget` are None when no shop is known."""

    order: Order | None
    tickets: tuple[Ticket, ...]
    groups: CutGroups
    holds: Capability | None
    fits: tuple[FitResult, ...]
    support: tuple[TicketSupport, ...]
    problems: tuple[Problem, ...]
    whole: JobResult | None = None
    budget: Budget | None = None


def cutting_of(job: Job, found: Layout | NoLayout | None, here: PlanShop | None, kerf: KerfUsed, unit: Unit) -> Cutting:
    holds = here.holds(float(kerf.mm)) if here is not None else None
    groups = default_groups(job)
    if not isinstance(found, Layout):
        if here is None or holds is None:
            return Cutting(None, (), groups, holds, (), (), ())
        budget = budget_for(job, holds, groups, here)
        whole = judge_job(budget)
        return Cutting(None, (), groups, holds, whole.fits, (), (), whole, budget)
    order = order_cuts(found.used, stations_of(here, job))
    fits_now = tuple(fit for fit in job.fits if fit not in waiting_fits(job))
    readings = readings_of(found.used, order, holds, roundings_of(job, fits_now)) if holds is not None else None
    groups = CutGroups({**groups.of, **groups_of(found.used, order, readings).of})
    made = tickets(order, readings, unit, {} if here is None or holds is None else _scales(here.shop, holds))
    against = tuple(problems_of_order(made, parted(job, found.used, order)))
    if here is None or holds is None:
        return Cutting(order, made, groups, None, (), (), against)
    support = sled_support(order, here.shop, tail_held=job.method is Method.CONTINUOUS)
    budget = budget_for(job, holds, groups, here)
    whole = judge_job(budget)
    made = _mended(made, support, job, here.shop, unit)
    return Cutting(order, made, groups, holds, whole.fits, support, against, whole, budget)


def _scales(shop: Shop, holds: Capability) -> dict[Station, Unit]:
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


def budget_for(job: Job, holds: Capability, groups: CutGroups, here: PlanShop) -> Budget:
    """The error budget, with what was found of the fence at the angles that mitred frames need."""
    angles = {fit.shape.angle for fit in job.fits if isinstance(fit.shape, Mitres)}
    found = {named(standing.feature).angle for standing in here.standings if ".fence-angle@" in standing.feature}
    at_angles = {
        angle: capability(here.shop, here.standings, angle=angle, kerf_mm=holds.kerf.value)
        for angle in sorted(angles & found)
    }
    return Budget(job, holds, groups, here.shop.instruments, at_angles=at_angles)


def _mended(
    made: tuple[Ticket, ...], support: tuple[TicketSupport, ...], job: Job, shop: Shop, unit: Unit
) -> tuple[Ticket, ...]:
    """Tickets with what their cut's support needs, before the other cautions."""
    words = {one.ticket: support_words(one, job, rough_length(unit)) for one in support}
    return tuple(
        replace(
            ticket,
            cautions=tuple(said for said in (words.get(ticket.id), *stop_cautions(ticket, shop)) if said)
            + ticket.cautions,
        )
        for ticket in made
    )


def rough_length(unit: Unit) -> Callable[[float], str]:
    """Writes millimetres for people, roughly: support is no matter of hundredths."""
    return "{:.0f} mm".format if unit == "mm" else lambda mm: f"{mm / 25.4:.1f} in"
