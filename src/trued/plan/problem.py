"""What stands against a plan: results, not refusals. Each has a code for scripts and a sentence for people."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from trued.job.angles import needs_angles
from trued.job.expression.tree import Side
from trued.job.fits.fit import FitResult, waiting_fits
from trued.job.job import Job, Method
from trued.measure.decision import LEVEL
from trued.plan.from_job import without_stock
from trued.plan.layout.result import Layout, NoLayout, Show
from trued.plan.not_made import NotMade
from trued.plan.order.order import Order
from trued.plan.stations.reach import Ban
from trued.plan.stations.refusal import Refusal
from trued.plan.stations.station import Station
from trued.plan.tickets.split_settings import SplitSetting
from trued.plan.tickets.ticket import Ticket, ticket_ids
from trued.units.number_format import percent

NOT_GOOD = frozenset(
    (
        "angles-not-planned",
        "infeasible",
        "no-stock",
        "fit-unlikely",
        "no-station",
        "by-hand",
        "fact-missing",
        "never-checked",
        "not-shown",
        "joints-forbidden",
        "maker-forbids",
        "knife",
        "metal",
        "blade",
        "insert",
        "safety-out",
    )
)
"""Codes for which a strict call ends with exit status 1."""


SHORT = frozenset(("infeasible", "no-stock"))
"""Codes for which parts have no place in the stock: nothing is said then of all of it together."""

CANNOT = "The job cannot be made from this stock"
NO_WAY = "No way was found to make the job from this stock"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that stands against the plan. `about`: the part, fit, ticket or mates that it is about."""

    code: str
    about: str
    text: str

    @property
    def not_good(self) -> bool:
        """Whether a strict call counts it."""
        return self.code in NOT_GOOD


def problems_of_job(job: Job) -> Iterator[Problem]:
    """What the job itself says cannot be cut, or judged, yet."""
    for part in job.waiting:
        sides = [str(side) for side, size in part.sizes() if size is None]
        text = f"{part.id} is held back until its {' and '.join(sides)} can be measured; nothing of it is cut yet."
        yield Problem("held-back", part.id, text)
    for fit in waiting_fits(job):
        yield Problem("fit-waits", fit.id, f"{fit.id} cannot be judged until what it rests on has been measured.")
    for part in without_stock(job):
        thick = "" if part.thickness is None else part.thickness.text
        wood = f"{part.material or 'the material'} {thick}".strip()
        text = f"{CANNOT}: it has no {wood} for {part.id}; add a [[stock]] of it."
        yield Problem("no-stock", part.id, text)


def problems_of_angles(job: Job) -> Iterator[Problem]:
    """Parts whose ends are cut at an angle: no stock verdict and no ticket, for a square cut would spoil them."""
    angled = needs_angles(job)
    if not angled:
        return
    others = any(part.id not in angled for part in job.ready)
    alone = " What stands here of stock and cuts is for the other parts alone." if others else ""
    for id in angled:
        text = f"Angles are not planned yet: {id} has mitered or beveled ends. No stock verdict and no ticket.{alone}"
        yield Problem("angles-not-planned", id, text)


def problem_of_layout(job: Job, found: Layout | NoLayout, show: Show) -> Iterator[Problem]:
    """That there is no layout, naming the method; or mates that could not come from one piece."""
    if isinstance(found, NoLayout):
        lead = CANNOT if found.reason.proven else NO_WAY
        yield Problem("infeasible", "", f"{lead}. {found.text(show)} {_method(job)}")
        return
    for word in found.split:
        yield Problem("pair-split", word, f"The mates of “{word}” could not come from one piece of stock.")


def problems_of_order(tickets: Sequence[Ticket], parted: Sequence[SplitSetting]) -> Iterator[Problem]:
    """Cuts that are made by hand, those that wait for a fact, and mates that share no setting."""
    for ticket in tickets:
        if ticket.station == Station.HAND:
            text = f"{ticket.id}: too small for the machines of this shop, so it is sawn by hand: {ticket.text}."
            yield Problem("by-hand", ticket.id, text)
    waiting: dict[str, list[str]] = {}
    for ticket in tickets:
        if ticket.waits:
            waiting.setdefault(ticket.waits, []).append(ticket.id)
    for fact, ids in waiting.items():
        yield Problem("fact-missing", ids[0], f"{_listed(ids)}: no number before this is known. {fact}")
    for one in parted:
        side = "lengths" if one.side is Side.LENGTH else "widths"
        yield Problem("pair-settings", one.word, f"The {side} of “{one.word}” do not share one setting: {one.text}")


def problems_of_stations(order: Order, length: Callable[[float], str]) -> Iterator[Problem]:
    """Cuts that the first station which their sizes allow may not make, and why; each reason once."""
    number = ticket_ids(order)
    found: dict[tuple[Station, Refusal], list[str]] = {}
    for done in order.cuts:
        for refusal in done.task.ruling.refused[:1]:
            found.setdefault((done.task.key[0], refusal), []).append(number[done.index])
    for (station, refusal), ids in found.items():
        where = {Station.SLED: "on the sled", Station.RIP: "at the rip fence", Station.HAND: "by hand"}
        at = where.get(station, "with the guided saw")
        text = f"{_listed(ids)}: made {at}, for {refusal.text(length).rstrip('.')}."
        way = refusal.way(length)
        if way and "another order" not in way:  # that order is what the guided saw makes
            text += f" It could be made there: {way}."
        yield Problem("other-station", ids[0], text)


def problems_of_not_made(parts: Sequence[NotMade]) -> Iterator[Problem]:
    """Parts that no station may make."""
    for one in parts:
        yield Problem("no-station", one.part, f"{one.text} {one.could}".strip())


def problems_of_joints(job: Job, forbids: Sequence[str]) -> Iterator[Problem]:
    """Joints of the job: no cut of this plan makes them, and the maker may forbid them on the saw."""
    if not _has_joints(job):
        return
    text = "No cut of this plan makes the joints: cut them by hand or at your own setting."
    if "non-through-cut" in forbids:
        text = (
            "The saw's maker forbids cuts that do not go through the wood: the joints are cut by hand or on another "
            "machine."
        )
        yield Problem("joints-forbidden", "", text)
        return
    if "dado-stack" in forbids:
        text += " The saw's maker forbids a stack of dado blades."
    yield Problem("joints-not-planned", "", text)


_JOINTS = ("dado", "groove", "rabbet", "rebate", "half-lap")
"""Joints that one saw cut does not part the wood for, in a person's words and in those of an assembly."""


def _has_joints(job: Job) -> bool:
    """Whether the job tells of any joint: a size that will be cut, a fit or size named after one, an assembly's."""
    said = [fit.id for fit in job.fits] + [fit.kind for fit in job.fits] + [named.name for named in job.named]
    said += [line for assembly in job.assemblies for line in assembly.said]
    return any(named.cut for named in job.named) or any(word in text.lower() for text in said for word in _JOINTS)


def _listed(ids: Sequence[str]) -> str:
    return ", ".join(dict.fromkeys(ids))


def problems_of_shop(bans: Sequence[Ban] | None) -> Iterator[Problem]:
    """That no shop is known (None), or what of it must not be used."""
    if bans is None:
        text = (
            "No shop is known: only sizes and layout are told, no cut. Name a book with --book or a shop file with "
            "--shop."
        )
        yield Problem("no-shop", "", text)
        return
    for ban in bans:
        yield Problem(ban.code, "", ban.text)


def problems_of_fits(fits: Sequence[FitResult]) -> Iterator[Problem]:
    """Fits that are not likely enough."""
    for fit in fits:
        if fit.chance < LEVEL:
            most = next(iter(fit.shares), "")
            because = f" Most of its doubt comes from: {most}." if most else ""
            if _beyond(fit):
                because = " By the sizes as written it lies beyond its limits: look at them first."
            text = f"{fit.name} is likely to fit {percent(fit.chance)} only.{because}"
            yield Problem("fit-unlikely", fit.name, text)


def _beyond(fit: FitResult) -> bool:
    low, high = fit.limits_mm
    return (low is not None and fit.mean_mm < low) or (high is not None and fit.mean_mm > high)


def _method(job: Job) -> str:
    if job.method is Method.ROUGH and job.rough is not None:
        return f"This is by the rough method: every blank is first cut {job.rough.text} longer."
    return "This is by the continuous method: every part is cut to its length at once, one after another."
