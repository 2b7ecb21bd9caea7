"""A plan in plain words for a terminal: does it go together, then stock, tickets, what to true first, support."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from trued.cli.lines import wrapped
from trued.units import as_decimal, as_mm
from trued.usecases.plan_words import (
    because_words,
    bracketed,
    chance_words,
    cost_words,
    cut_to_fit_words,
    first_part_words,
    grouped,
    limits_words,
    not_seen_words,
    placed_words,
    set_words,
    shared_cautions,
    small,
    together_words,
    true_words,
)
from trued.usecases.words import feature_said

if TYPE_CHECKING:
    from trued.units import Unit
    from trued.usecases.plan_view import PlanView
    from trued.usecases.plan_words import Safety, Ticket


def told(view: PlanView) -> str:
    """The whole plan."""
    parts = (_title, _together, _problems, _sizes, _stock, _tickets, _true_first, _support, _cautions, _end)
    return "\n".join(line for part in parts for line in part(view)).strip()


def _title(view: PlanView) -> Iterator[str]:
    kerf = as_mm(view.kerf.mm).text if view.unit == "mm" else f"{as_decimal(view.kerf.mm).text} in"
    yield view.job.name or "A job without a name"
    yield wrapped(f"{view.job.method} method; kerf {kerf}, {view.kerf.source}.")


def _together(view: PlanView) -> Iterator[str]:
    yield ""
    yield "DOES IT GO TOGETHER?"
    for short in view.short:
        yield wrapped(short, "  ")
    if not view.fits:
        yield "  The job names no fit that can be judged yet."
    if whole := together_words(view):
        yield wrapped(whole, "  ")
    for fit in view.fits:
        found = fit.expected
        if found is None:
            yield wrapped(f"{fit.name}: meant to be {small(fit.meant_mm, view.unit)}; chance not known.", "  ")
            continue
        low, high = found.interval_mm
        beside = bracketed(not_seen_words(found.shares, found.assumed))
        yield wrapped(f"{fit.name}: {chance_words(found.chance)}{beside}", "  ")
        spread = f"95 times in 100 between {small(low, view.unit)} and {small(high, view.unit)}"
        yield wrapped(
            f"needs {limits_words(fit, view.unit)}; expected {small(found.mean_mm, view.unit)}, {spread}", "    "
        )
        if because := because_words(fit):
            yield wrapped(f"its doubt comes from {because}", "    ")
    for said in (first_part_words(view), *cut_to_fit_words(view)):
        if said:
            yield wrapped(said, "  ")


def _problems(view: PlanView) -> Iterator[str]:
    """All but what stands with the tickets, and what was said at the head."""
    problems = [one for one in view.problems if one.code != "support-fails" and one.text not in view.short]
    if problems:
        yield ""
        yield "WHAT STANDS AGAINST IT"
        for problem in problems:
            yield wrapped(problem.text, "  ")


def _sizes(view: PlanView) -> Iterator[str]:
    """What each joint of an assembly made of its parts."""
    said = [line for assembly in view.job.assemblies for line in assembly.said]
    if said:
        yield ""
        yield "WHERE THE SIZES COME FROM"
        for line in said:
            yield wrapped(line, "  ")


def _stock(view: PlanView) -> Iterator[str]:
    layout = view.layout
    if layout is None:
        return
    yield ""
    yield "STOCK"
    yield wrapped(f"{cost_words(layout)}.", "  ")
    for used in layout.used:
        yield wrapped(placed_words(used, view.unit), "  ")


def _tickets(view: PlanView) -> Iterator[str]:
    order = view.order
    if order is None:
        return
    yield ""
    least = "no order needs fewer" if order.settings == order.bound else f"at least {order.bound} are needed"
    yield f"ORDER OF CUTS. Cuts: {len(order.cuts)}. Settings: {order.settings} ({least})."
    for group in grouped(view.tickets):
        yield ""
        yield from _group(group, view.unit)


def _group(group: Sequence[Ticket], unit: Unit) -> Iterator[str]:
    """What is set and what all its cuts share, then cut by cut with its own cautions under it; how the piece lies is
    said again only where it changes."""
    head = group[0]
    yield wrapped(f"{head.setting + ': ' if head.setting else ''}{set_words(head)}", "  ")
    for note in (true_words(head, unit), head.first):
        if note:
            yield wrapped(note, "    ")
    shared = shared_cautions(group)
    for caution in shared:
        yield wrapped(f"CAUTION  {head.id} to {group[-1].id}: {caution}", "    ")
    lies = ""
    for ticket in group:
        how = f"From {ticket.piece}: face {ticket.face}; {ticket.edge}."
        if how != lies:
            lies = how
            yield wrapped(how, "    ")
        yield wrapped(f"{ticket.id}  {ticket.text}", "    ")
        for caution in ticket.cautions:
            if caution not in shared:
                yield wrapped(f"CAUTION  {caution}", "      ")


def _true_first(view: PlanView) -> Iterator[str]:
    if view.shop is None:
        return
    yield ""
    yield "WHAT TO TRUE FIRST"
    yield from _safety(view.safety)
    for one in view.true_first:
        gain = f"then {one.fit} can become likelier by up to {100 * one.chance_gain:.0f} in 100"
        what = f"{feature_said(one.feature)}: trued check {one.check}, about {one.minutes:.0f} minutes"
        yield wrapped(f"{what}; {gain}", "  ")
    if not view.true_first:
        yield "  Nothing that a check could sharpen would change a fit of this job."
    if view.do_not_bother:
        yield wrapped(f"Leave alone for this job: {', '.join(feature_said(one) for one in view.do_not_bother)}", "  ")


def _safety(items: Sequence[Safety]) -> Iterator[str]:
    """Items of one state together: what has to be shown right before the first rip."""
    states: dict[str, list[str]] = {}
    for item in items:
        states.setdefault(item.state, []).append(feature_said(item.feature))
    for state, names in states.items():
        yield wrapped(f"Before the first rip, {state}: {', '.join(names)}. Not shown right is not ready.", "  ")


def _support(view: PlanView) -> Iterator[str]:
    if not view.support:
        return
    yield ""
    yield "SUPPORT ON THE SLED"
    fine = [one.ticket for one in view.support if one.finding is not None and one.finding.nothing_found]
    if fine:
        yield wrapped(f"{', '.join(fine)}: no problem found in these checks.", "  ")
    lacking: dict[str, list[str]] = {}
    for one in view.support:
        if one.finding is None:
            lacking.setdefault(one.lacks, []).append(one.ticket)
    for lacks, tickets in lacking.items():
        yield wrapped(f"{', '.join(tickets)}: not reckoned. {lacks}", "  ")
    failing = [one.ticket for one in view.support if one.finding is not None and not one.finding.nothing_found]
    if failing:
        yield wrapped(f"{', '.join(failing)}: not carried as they are; what mends it stands with the ticket.", "  ")


def _cautions(view: PlanView) -> Iterator[str]:
    yield ""
    yield "CAUTIONS"
    for caution in view.cautions:
        yield wrapped(caution, "  ")


def _end(view: PlanView) -> Iterator[str]:
    yield ""
    for path in view.sheets:
        yield f"Sheets: {path}"
    yield (
        f"Kept in the book as plan {view.kept}, version {view.version}."
        if view.kept
        else "Not kept: no book was named."
    )
