"""A plan in plain words for a terminal: does it go together, then stock, tickets, what to true first, support."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from trued.cli.lines import wrapped
from trued.units import as_decimal, as_mm
from trued.units.number_format import percent, percent_range
from trued.usecases.plan.words import (
    TOLD_WITH_CUTS,
    against_words,
    because_words,
    before_words,
    beside_words,
    better_words,
    bracketed,
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
    true_words,
)
from trued.usecases.runs.asked_with import at_angle
from trued.usecases.words import feature_said
from trued.words.error_keys import all_labeled

if TYPE_CHECKING:
    from trued.units import Unit
    from trued.usecases.views import CheckPriority, PlanDocument, PlanTicket


def told(plan: PlanDocument, *, more: bool = False) -> str:
    """What it comes to on one screen; with `more` also where the sizes come from, every cut, and why."""
    short = (_headline, _not_yet, _not_made, _problems, _better, _fits, _cuts_and_stock, _cautions)
    rest = (_method, _why, _sizes, _tickets, _true_first, _support)
    parts = (*short, *(rest if more else ()), _end)
    lines = [line for part in parts for line in part(plan)]
    if not more:
        lines.append("Cuts and their warnings: --more    Print: --out DIR")
    return "\n".join(lines).strip()


def _headline(plan: PlanDocument) -> Iterator[str]:
    words = f"{plan.title}: {headline_words(plan)}"
    if not plan.short and plan.job_chance is not None:
        words += f". {percent(plan.job_chance)} that everything fits{bracketed(_range(plan))}"
    yield wrapped(words)
    for short in plan.short:
        yield wrapped(short, "  ")


def _range(plan: PlanDocument) -> str:
    """How far the chance itself can be trusted, where that is wide."""
    ends = plan.job_chance_interval95
    if ends is None or ends[1] - ends[0] < 0.1:
        return ""
    return f"{percent_range(ends[0], ends[1])}, few readings"


def _method(plan: PlanDocument) -> Iterator[str]:
    kerf = as_mm(plan.kerf.mm).text if plan.unit == "mm" else f"{as_decimal(plan.kerf.mm).text} in"
    yield ""
    yield wrapped(f"{plan.method.capitalize()} method. Kerf {kerf}, {plan.kerf.source}.")


def _not_yet(plan: PlanDocument) -> Iterator[str]:
    """What can hurt comes before anything else."""
    if said := not_yet_words(plan):
        yield ""
        yield "DON'T CUT YET"
        yield from (wrapped(text, "  ") for text in said)


def _better(plan: PlanDocument) -> Iterator[str]:
    """What would make it likelier, the largest gains first."""
    said = [*better_words(plan), *(check_first_words(one) for one in plan.true_first[:1])]
    if said:
        yield ""
        yield "MAKE IT FIT"
        for text in said:
            yield wrapped(text, "  ")


def _fits(plan: PlanDocument) -> Iterator[str]:
    """Each fit in a line: chance, what is expected, what is allowed."""
    if not plan.fits:
        return
    yield ""
    wide = max(len(fit.name) for fit in plan.fits)
    yield f"{'FITS':<{wide + 2}}  chance    expected   allowed"
    for fit in plan.fits:
        chance = "not known" if fit.chance is None else percent(fit.chance)
        mean = fit.meant_mm if fit.chance is None else fit.mean_mm
        yield f"  {fit.name:<{wide}}  {chance:>9}  {small(mean, plan.unit):>9}   {limits_words(fit, plan.unit)}"
    resting = [fit for fit in plan.fits if beside_words(fit)]
    assumed = dict.fromkeys(label for fit in resting for label in (fit.shares or {}) if label in (fit.assumed or ()))
    if assumed:
        yield wrapped(f"Assumed, not measured here: {', '.join(all_labeled(assumed)[:3])}.", "  ")


def _cuts_and_stock(plan: PlanDocument) -> Iterator[str]:
    yield ""
    if counted := settings_words(plan):
        yield f"CUTS   {counted}"
    if plan.layout is not None:
        yield wrapped(f"STOCK  {cost_words(plan.layout, plan.unit).removeprefix('Stock ')}")
        for board in plan.layout.stock:
            yield wrapped(placed_words(board, plan.unit), "       ")


def _why(plan: PlanDocument) -> Iterator[str]:
    """Where the doubt of each fit comes from."""
    said = [
        f"{fit.name}: 95% from {small(ends[0], plan.unit)} to {small(ends[1], plan.unit)}. "
        f"Variance: {because_words(fit)}."
        for fit in plan.fits
        if (ends := fit.interval95_mm) and because_words(fit)
    ]
    if said:
        yield ""
        yield "WHY"
        for text in said:
            yield wrapped(text, "  ")


def _problems(plan: PlanDocument) -> Iterator[str]:
    """All but what stands with the tickets, and what was said at the head."""
    problems = [text for text in against_words(plan, *TOLD_WITH_CUTS, "fit-unlikely") if text not in plan.short]
    if problems:
        yield ""
        yield "LOOK AT"
        for text in problems:
            yield wrapped(text, "  ")


def _not_made(plan: PlanDocument) -> Iterator[str]:
    said = not_made_words(plan)
    if said:
        yield ""
        yield "NOT MADE HERE"
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


def _tickets(plan: PlanDocument) -> Iterator[str]:
    if not (counted := settings_words(plan)):
        return
    yield ""
    yield f"CUT ORDER  {counted}"
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
    yield from (wrapped(f"WARNING  {group[0].id} to {group[-1].id}: {caution}", "    ") for caution in shared)
    lies = ""
    for ticket in group:
        how = f"From {ticket.piece}: face {ticket.face}; {ticket.edge}."
        if how != lies:
            lies = how
            yield wrapped(how, "    ")
        yield from (wrapped(f"{ticket.id}: {said}", "    ") for said in before_words(ticket) if said not in first)
        yield wrapped(f"{ticket.id}  {ticket.text}", "    ")
        yield from (wrapped(f"WARNING  {caution}", "      ") for caution in ticket.cautions if caution not in shared)


def _true_first(plan: PlanDocument) -> Iterator[str]:
    if not plan.shop:
        return
    yield ""
    yield "CHECK FIRST"
    for one in plan.true_first:
        yield wrapped(check_first_words(one), "  ")
    if not plan.true_first:
        yield "  No check would improve this job."
    if plan.do_not_bother:
        yield wrapped(f"Not needed for this job: {', '.join(feature_said(one) for one in plan.do_not_bother)}", "  ")


def check_first_words(one: CheckPriority) -> str:
    """`stop repeatability (8 min): shelves alike, up to 28 points better. trued check stop-repeat`"""
    gain = f"{one.fit}, up to {100 * one.chance_gain:.0f} points better"
    check = f"trued check {one.check}{at_angle(one.feature)}"
    return f"Check {feature_said(one.feature)} ({one.minutes:.0f} min): {gain}. {check}"


def _support(plan: PlanDocument) -> Iterator[str]:
    if not plan.support:
        return
    yield ""
    yield "SUPPORT"
    if fine := [one.ticket for one in plan.support if one.ok]:
        yield wrapped(f"{cuts_words(fine)}: no problem found.", "  ")
    lacking: dict[str, list[str]] = {}
    for one in plan.support:
        if one.ok is None:
            lacking.setdefault(one.text, []).append(one.ticket)
    for lacks, tickets in lacking.items():
        yield wrapped(f"{cuts_words(tickets)}: not computed. {lacks}", "  ")
    if failing := [one.ticket for one in plan.support if one.ok is False]:
        yield wrapped(f"{cuts_words(failing)}: need support. See each cut.", "  ")


def _cautions(plan: PlanDocument) -> Iterator[str]:
    """All of them, once and in full, before the first cut."""
    yield ""
    yield "WARNING: before the first cut"
    for caution in plan.cautions:
        yield wrapped(caution, "  ")


def _end(plan: PlanDocument) -> Iterator[str]:
    yield ""
    for path in plan.sheets:
        yield f"Printed: {path}"
    yield (
        f"Saved: plan {plan.plan[:8]}, version {plan.version}."
        if plan.plan
        else "Not saved: no shop book (--book or TRUED_BOOK)."
    )
