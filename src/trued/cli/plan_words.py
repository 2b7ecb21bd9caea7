"""A plan in plain words for a terminal: does it go together, then stock, tickets, what to true first, support."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from trued.cli.check_words import wrapped
from trued.units import as_decimal, as_mm
from trued.usecases.plan_words import (
    because_words,
    chance_words,
    grouped,
    limits_words,
    placed_words,
    set_words,
    small,
    true_words,
)

if TYPE_CHECKING:
    from trued.usecases.plan_view import PlanView


def told(view: PlanView) -> str:
    """The whole plan."""
    parts = (_title, _together, _problems, _stock, _tickets, _true_first, _support, _cautions, _end)
    return "\n".join(line for part in parts for line in part(view)).strip()


def _title(view: PlanView) -> Iterator[str]:
    kerf = as_mm(view.kerf.mm).text if view.unit == "mm" else f"{as_decimal(view.kerf.mm).text} in"
    yield view.job.name or "A job without a name"
    yield wrapped(f"{view.job.method} method; kerf {kerf}, {view.kerf.source}.")


def _together(view: PlanView) -> Iterator[str]:
    yield ""
    yield "DOES IT GO TOGETHER?"
    if not view.fits:
        yield "  The job names no fit that can be judged yet."
    for fit in view.fits:
        found = fit.expected
        if found is None:
            yield wrapped(f"{fit.name}: meant to be {small(fit.meant_mm, view.unit)}; chance not known.", "  ")
            continue
        low, high = found.interval_mm
        yield wrapped(f"{fit.name}: {chance_words(found.chance)}", "  ")
        spread = f"95 times in 100 between {small(low, view.unit)} and {small(high, view.unit)}"
        yield wrapped(
            f"needs {limits_words(fit, view.unit)}; expected {small(found.mean_mm, view.unit)}, {spread}", "    "
        )
        if because := because_words(fit):
            yield wrapped(f"its doubt comes from {because}", "    ")


def _problems(view: PlanView) -> Iterator[str]:
    """All but what stands with the tickets."""
    problems = [problem for problem in view.problems if problem.code != "support-fails"]
    if problems:
        yield ""
        yield "WHAT STANDS AGAINST IT"
        for problem in problems:
            yield wrapped(problem.text, "  ")


def _stock(view: PlanView) -> Iterator[str]:
    layout = view.layout
    if layout is None:
        return
    yield ""
    yield "STOCK"
    what = "price" if layout.unit == "price" else "m²"
    least = "nothing cheaper is possible" if layout.gap <= 0 else f"at least {layout.bound:.2f} is needed"
    yield wrapped(f"cost {layout.cost:.2f} ({what}); {least}; the search ended by {layout.ended}.", "  ")
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
        head = group[0]
        yield ""
        yield wrapped(f"{head.setting + ': ' if head.setting else ''}{set_words(head)}", "  ")
        for note in (true_words(head, view.unit), head.first):
            if note:
                yield wrapped(note, "    ")
        said: set[str] = set()
        for ticket in group:
            for caution in ticket.cautions:
                if caution not in said:
                    said.add(caution)
                    yield wrapped(f"CAUTION  {caution}", "    ")
            yield wrapped(
                f"{ticket.id}  {ticket.text} (from {ticket.piece}; face {ticket.face}; {ticket.edge})", "    "
            )


def _true_first(view: PlanView) -> Iterator[str]:
    if view.shop is None:
        return
    yield ""
    yield "WHAT TO TRUE FIRST"
    for item in view.safety:
        yield wrapped(item.text, "  ")
    for one in view.true_first:
        gain = f"{one.fit} gains up to {100 * one.chance_gain:.0f} in 100"
        yield wrapped(f"{one.feature}: trued check {one.check}, about {one.minutes:.0f} minutes; {gain}", "  ")
    if not view.true_first:
        yield "  Nothing that a check could sharpen would change a fit of this job."
    if view.do_not_bother:
        yield wrapped(f"Leave alone for this job: {', '.join(view.do_not_bother)}", "  ")


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
    yield f"Kept as plan {view.kept}, version {view.version}." if view.kept else "Not kept: no book was named."
