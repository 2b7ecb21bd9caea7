"""The sheets of a plan: does it go together, the boards, the tickets; one PDF in the folder that was named."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryFile
from typing import Literal

from trued.errors import InputRefused
from trued.plan.order import Order
from trued.plan.pieces import to_mm
from trued.plan.result import Layout
from trued.plan.ticket import Ticket, grouped
from trued.sheets.board import board_drawing, board_key, letters
from trued.sheets.pdf import pdf_bytes
from trued.sheets.values import BoardSheet, FitLine, FitSheet, Head, Sheet, TicketGroup, TicketLine, TicketSheet
from trued.sheets.whole_file import write_whole
from trued.usecases.plan_view import FitView, PlanView
from trued.usecases.plan_words import (
    because_words,
    chance_words,
    cut_to_fit_words,
    first_part_words,
    limits_words,
    near,
    not_seen_words,
    set_words,
    shared_cautions,
    small,
    together_words,
    true_words,
)


@dataclass(frozen=True, slots=True)
class Ready:
    """Sheets that are set and whose folder can be written; nothing is there yet but the folder."""

    path: Path
    content: bytes

    def write(self) -> None:
        """Put the file there, in place of an older one."""
        write_whole(self.path, self.content)


def made_ready(view: PlanView, out: Path, paper: Literal["letter", "a4"]) -> Ready | None:
    """The sheets of a plan, set; None when there is nothing to print. InputRefused: the folder cannot be written."""
    sheets = tuple(sheets_of(view))
    if not sheets:
        return None
    before = int(view.version) - 1 if view.version else 0
    version = f"v{view.version}" if view.version else "not kept in a book"
    head = Head(view.job.name or "A job", view.made.replace(microsecond=0), version, f"v{before}" if before else "")
    content = pdf_bytes(head, sheets, paper)
    _can_be_written(out)
    return Ready(out / f"{_file_name(view.job.name)}.pdf", content)


def sheets_of(view: PlanView) -> Iterator[Sheet]:
    """What is printed: the answer first, then stock by stock, then the order of cuts."""
    if view.fits:
        whole = (together_words(view), first_part_words(view), *cut_to_fit_words(view))
        against = (p.text for p in view.problems if p.code not in ("fit-unlikely", "support-fails"))
        notes = (*view.short, *filter(None, whole), *(text for text in against if text not in view.short))
        yield FitSheet("Does it go together?", tuple(_fit_line(fit, view) for fit in view.fits), notes)
    if view.layout is not None and view.order is not None:
        names = letters(view.layout.used)
        yield from _boards(view, view.layout, view.order, names)
        yield TicketSheet("Order of cuts", tuple(_groups(view, names)), view.cautions, _counted(view))


def _fit_line(fit: FitView, view: PlanView) -> FitLine:
    found, unit = fit.expected, view.unit
    if found is None:
        return FitLine(fit.name, limits_words(fit, unit), small(fit.meant_mm, unit), "", "not known: no shop is known")
    low, high = found.interval_mm
    return FitLine(
        fit.name,
        limits_words(fit, unit),
        small(found.mean_mm, unit),
        f"{small(low, unit)} to {small(high, unit)} (95 %)",
        chance_words(found.chance),
        because_words(fit),
        not_seen_words(found.shares, found.assumed),
    )


def _boards(view: PlanView, layout: Layout, order: Order, names: Mapping[str, str]) -> Iterator[BoardSheet]:
    def show(units: int) -> str:
        return near(to_mm(units), view.unit)

    for used in layout.used:
        numbers = {done.task.cut: n for n, done in enumerate(order.cuts, 1) if done.task.used is used}
        yield BoardSheet(
            f"{used.stock.id}, piece {used.copy}",
            board_drawing(used, show=show, letters=names, numbers=numbers),
            board_key(used, show=show, letters=names, numbers=numbers),
            ("Work from the last cut edge each time; do not draw all the lines at once.",),
        )


def _groups(view: PlanView, names: Mapping[str, str]) -> Iterator[TicketGroup]:
    for group in grouped(view.tickets):
        head = group[0]
        common = shared_cautions(group) if len(group) > 1 else head.cautions
        lines = tuple(_line(ticket, names, common) for ticket in group)
        number, _, nearest = (head.scale_text or head.wanted_text if head.setting else "").partition(" (")
        notes = tuple(note for note in (nearest.rstrip(")"), true_words(head, view.unit), head.first) if note)
        yield TicketGroup(set_words(head).partition(" at ")[0], number, lines, notes, common)


def _line(ticket: Ticket, names: Mapping[str, str], common: tuple[str, ...]) -> TicketLine:
    made = " ".join(f"{names[part]}{copy}" for part, _, copy in (name.partition("@") for name in ticket.parts))
    return TicketLine(
        int(ticket.id.removeprefix("T")),
        f"{ticket.text} ({made})" if made else ticket.text,
        f"face {ticket.face}; {ticket.edge}",
        f"from {ticket.piece}",
        cautions=tuple(said for said in ticket.cautions if said not in common),
    )


def _counted(view: PlanView) -> tuple[str, ...]:
    order = view.order
    if order is None:
        return ()
    least = "no order needs fewer" if order.settings == order.bound else f"at least {order.bound} are needed"
    return (f"Cuts: {len(order.cuts)}. Settings: {order.settings} ({least}). Walks between stations: {order.walks}.",)


def _file_name(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "plan"


def _can_be_written(out: Path) -> None:
    """Make the folder and try it, so that nothing is kept of a plan whose sheets cannot be written."""
    try:
        out.mkdir(parents=True, exist_ok=True)
        with TemporaryFile(dir=out):
            pass
    except OSError as error:
        text = f"Sheets cannot be written into this folder ({error.strerror or error}); name another one."
        raise InputRefused.of("--out", str(out), text) from None
