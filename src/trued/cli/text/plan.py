"""A plan in plain words for a terminal: does it go together, then stock, tickets, what to true first, support."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from trued.cli.lines import wrapped
from trued.units import as_decimal, as_mm
from trued.usecases.plan.words import (
    TOLD_WITH_CUTS,
    against_words,
    because_words,
    before_words,
    beside_words,
    better_words,
    bracketed,
    chance_words,
    cost_words,
    cuts_words,
    group_first,
    group_head,
    grouped,
    headline_words,
    limits_words,
    not_made_words,
    not_yet_words,
    placed_words,
    set_words,
    settings_words,
    shared_cautions,
    small,
    together_words,
    true_words,
)
from trued.usecases.runs.asked_with import at_angle
from trued.usecases.words import feature_said

if TYPE_CHECKING:
    from trued.units import Unit
    from trued.usecases.views import PlanDocument, PlanTicket


def told(plan: PlanDocument) -> str:
    """The whole plan."""
    parts = (
        _title,
        _not_yet,
        _not_made,
        _together,
        _problems,
        _sizes,
        _stock,
        _cautions,
        _tickets,
        _true_first,
        _support,
        _end,
    )
    return "\n".join(line for part in parts for line in part(plan)).strip()


def _title(plan: PlanDocument) -> Iterator[str]:
    kerf = as_mm(plan.kerf.mm).text if plan.unit == "mm" else f"{as_decimal(plan.kerf.mm).text} in"
    yield plan.title
    yield wrapped(f"{plan.method} method; kerf {kerf}, {plan.kerf.source}.")


def _not_yet(plan: PlanDocument) -> Iterator[str]:
    """What can hurt comes before anything else."""
    if said := not_yet_words(plan):
        yield ""
        yield "DO NOT CUT YET"
        yield from (wrapped(text, "  ") for text in said)


def _together(plan: PlanDocument) -> Iterator[str]:
    yield ""
    yield "DOES IT GO TOGETHER?"
    if not plan.short:
        yield f"  {headline_words(plan)}."
    for short in plan.short:
        yield wrapped(short, "  ")
    if not plan.fits:
        yield "  The job names no fit that can be judged yet."
    if whole := together_words(plan):
        yield wrapped(whole, "  ")
    for fit in plan.fits:
        if fit.chance is None:
            yield wrapped(f"{fit.name}: meant to be {small(fit.meant_mm, plan.unit)}; chance not known.", "  ")
            continue
        yield wrapped(f"{fit.name}: {chance_words(fit.chance)}{bracketed(beside_words(fit))}", "  ")
        ends = fit.interval95_mm
        spread = (
            f", 95 times in 100 between {small(ends[0], plan.unit)} and {small(ends[1], plan.unit)}" if ends else ""
        )
        yield wrapped(f"needs {limits_words(fit, plan.unit)}; expected {small(fit.mean_mm, plan.unit)}{spread}", "    ")
        if because := because_words(fit):
            yield wrapped(f"its doubt comes from {because}", "    ")
    for said in better_words(plan):
        yield wrapped(said, "  ")


def _problems(plan: PlanDocument) -> Iterator[str]:
    """All but what stands with the tickets, and what was said at the head."""
    problems = [text for text in against_words(plan, *TOLD_WITH_CUTS) if text not in plan.short]
    if problems:
        yield ""
        yield "WHAT STANDS AGAINST IT"
        for text in problems:
            yield wrapped(text, "  ")


def _not_made(plan: PlanDocument) -> Iterator[str]:
    said = not_made_words(plan)
    if said:
        yield ""
        yield "NOT MADE HERE: in no cut of this plan"
        for text in said:
            yield wrapped(text, "  ")


def _sizes(plan: PlanDocument) -> Iterator[str]:
    """What each joint of an assembly made of its parts."""
    said = [line for assembly in plan.assemblies for line in assembly.said]
    if said:
        yield ""
        yield "WHERE THE SIZES COME FROM"
        for line in said:
            yield wrapped(line, "  ")


def _stock(plan: PlanDocument) -> Iterator[str]:
    layout = plan.layout
    if layout is None:
        return
    yield ""
    yield "STOCK"
    yield wrapped(cost_words(layout), "  ")
    for board in layout.stock:
        yield wrapped(placed_words(board, plan.unit), "  ")


def _tickets(plan: PlanDocument) -> Iterator[str]:
    if not (counted := settings_words(plan)):
        return
    yield ""
    yield f"ORDER OF CUTS. {counted}"
    for group in grouped(plan.order):
        yield ""
        yield from _group(group, plan.unit)


def _group(group: Sequence[PlanTicket], unit: Unit) -> Iterator[str]:
    """What is set and what all its cuts share, then cut by cut with its own cautions under it; how the piece lies is
    said again only where it changes."""
    head, first = group_head(group), group_first(group)
    yield from (wrapped(f"{group[0].id}: {said}", "  ") for said in first)
    yield wrapped(f"{head.setting + ': ' if head.setting else ''}{set_words(head)}", "  ")
    notes = (true_words(head, unit), "" if head.waits else head.first)
    yield from (wrapped(note, "    ") for note in notes if note)
    shared = shared_cautions(group)
    yield from (wrapped(f"CAUTION  {group[0].id} to {group[-1].id}: {caution}", "    ") for caution in shared)
    lies = ""
    for ticket in group:
        how = f"From {ticket.piece}: face {ticket.face}; {ticket.edge}."
        if how != lies:
            lies = how
            yield wrapped(how, "    ")
        yield from (wrapped(f"{ticket.id}: {said}", "    ") for said in before_words(ticket) if said not in first)
        yield wrapped(f"{ticket.id}  {ticket.text}", "    ")
        yield from (wrapped(f"CAUTION  {caution}", "      ") for caution in ticket.cautions if caution not in shared)


def _true_first(plan: PlanDocument) -> Iterator[str]:
    if not plan.shop:
        return
    yield ""
    yield "WHAT TO TRUE FIRST"
    for one in plan.true_first:
        gain = f"then {one.fit} can become likelier by up to {100 * one.chance_gain:.0f} in 100"
        check = f"trued check {one.check}{at_angle(one.feature)}"
        what = f"{feature_said(one.feature)}: {check}, about {one.minutes:.0f} minutes"
        yield wrapped(f"{what}; {gain}", "  ")
    if not plan.true_first:
        yield "  Nothing that a check could sharpen would change a fit of this job."
    if plan.do_not_bother:
        yield wrapped(f"Leave alone for this job: {', '.join(feature_said(one) for one in plan.do_not_bother)}", "  ")


def _support(plan: PlanDocument) -> Iterator[str]:
    if not plan.support:
        return
    yield ""
    yield "SUPPORT ON THE SLED"
    if fine := [one.ticket for one in plan.support if one.ok]:
        yield wrapped(f"{cuts_words(fine)}: no problem found in these checks.", "  ")
    lacking: dict[str, list[str]] = {}
    for one in plan.support:
        if one.ok is None:
            lacking.setdefault(one.text, []).append(one.ticket)
    for lacks, tickets in lacking.items():
        yield wrapped(f"{cuts_words(tickets)}: not reckoned. {lacks}", "  ")
    if failing := [one.ticket for one in plan.support if one.ok is False]:
        yield wrapped(f"{cuts_words(failing)}: not carried as they are; what mends it stands with the ticket.", "  ")


def _cautions(plan: PlanDocument) -> Iterator[str]:
    """All of them, once and in full, before the first cut."""
    yield ""
    yield "BEFORE THE FIRST CUT"
    for caution in plan.cautions:
        yield wrapped(caution, "  ")


def _end(plan: PlanDocument) -> Iterator[str]:
    yield ""
    for path in plan.sheets:
        yield f"Sheets: {path}"
    yield (
        f"Kept in the book as plan {plan.plan}, version {plan.version}."
        if plan.plan
        else "Not kept: no book was named."
    )
