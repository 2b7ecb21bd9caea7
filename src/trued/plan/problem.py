"""What stands against a plan: results, not refusals. Each has a code for scripts and a sentence for people."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from trued.job.angles import needs_angles
from trued.job.fit import FitResult, waiting_fits
from trued.job.job import Job, Method
from trued.job.tree import Side
from trued.measure.decision import LEVEL
from trued.plan.from_job import without_stock
from trued.plan.result import Layout, NoLayout, Show
from trued.plan.sled_support import TicketSupport
from trued.plan.station import Station, bans_of
from trued.plan.ticket import Ticket
from trued.plan.together import Parted
from trued.shop.shop import Shop
from trued.shop.standing import Standing

NOT_GOOD = frozenset(
    (
        "angles-not-planned",
        "infeasible",
        "no-stock",
        "fit-unlikely",
        "support-fails",
        "no-station",
        "maker-forbids",
        "knife",
        "metal",
        "blade",
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


def problems_of_order(tickets: Sequence[Ticket], parted: Sequence[Parted]) -> Iterator[Problem]:
    """Cuts that no station may make, and mates that share no setting."""
    for ticket in tickets:
        if ticket.station == Station.HAND:
            text = f"{ticket.id}: no station of this shop may make this cut: {ticket.text}."
            yield Problem("no-station", ticket.id, text)
    for one in parted:
        side = "lengths" if one.side is Side.LENGTH else "widths"
        yield Problem("pair-settings", one.word, f"The {side} of “{one.word}” do not share one setting: {one.text}")


def problems_of_shop(shop: Shop | None, standings: Sequence[Standing] = ()) -> Iterator[Problem]:
    """That no shop is known, or what of it must not be used."""
    if shop is None:
        text = (
            "No shop is known: support, corrected settings and chances are left out. Name a book with --book or a shop "
            "file with --shop."
        )
        yield Problem("no-shop", "", text)
        return
    for ban in bans_of(shop, standings):
        yield Problem(ban.code, "", ban.text)


def problems_of_fits(fits: Sequence[FitResult]) -> Iterator[Problem]:
    """Fits that are not likely enough."""
    for fit in fits:
        if fit.chance < LEVEL:
            most = next(iter(fit.shares), "")
            because = f" Most of its doubt comes from: {most}." if most else ""
            if _beyond(fit):
                because = " By the sizes as written it lies beyond its limits: look at them first."
            text = f"{fit.name} is likely to fit {_percent(fit.chance)} only.{because}"
            yield Problem("fit-unlikely", fit.name, text)


def _beyond(fit: FitResult) -> bool:
    low, high = fit.limits_mm
    return (low is not None and fit.mean_mm < low) or (high is not None and fit.mean_mm > high)


def problems_of_support(
    support: Sequence[TicketSupport], job: Job, length: Callable[[float], str]
) -> Iterator[Problem]:
    """Cuts that table, wing and sled do not carry; `length` writes millimetres."""
    for one in support:
        if said := support_words(one, job, length):
            yield Problem("support-fails", one.ticket, f"{one.ticket}: {said}")


def support_words(one: TicketSupport, job: Job, length: Callable[[float], str]) -> str:
    """What is wrong with the support of a cut and what mends it, with the words of the job file that do it, or ""."""
    if one.finding is None or one.finding.nothing_found:
        return ""
    said = one.finding.short_words(length)
    if one.finding.wants_rough and job.method is Method.CONTINUOUS:
        longer = "12" if job.unit == "mm" else "1/2"
        said += (
            f' Do not make it as it stands: method = "rough" with rough = "{longer}" in the job file plans the rough '
        )
        said += "cuts first, where the stock is long enough for them."
    return said


def _method(job: Job) -> str:
    if job.method is Method.ROUGH and job.rough is not None:
        return f"This is by the rough method: every blank is first cut {job.rough.text} longer."
    return "This is by the continuous method: every part is cut to its length at once, one after another."


def _percent(chance: float) -> str:
    return "under 1 time in 100" if chance < 0.01 else f"{100 * chance:.0f} times in 100"
