"""The sheets of a plan: does it go together, the boards, the tickets; one PDF in the folder that was named."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryFile
from typing import Literal

from trued.errors import InputRefused
from trued.plan.document import PlanDocument, PlanFit, PlanTicket, grouped
from trued.render.board import board_drawing, board_key, letters
from trued.render.pdf import pdf_bytes
from trued.render.values import BoardSheet, FitLine, FitSheet, Head, Sheet, TicketGroup, TicketLine, TicketSheet
from trued.render.whole_file import write_whole
from trued.usecases.plan.document import document_of
from trued.usecases.plan.planned import PlanView
from trued.usecases.plan.words import (
    TOLD_WITH_CUTS,
    against_words,
    because_words,
    before_words,
    beside_words,
    better_words,
    chance_words,
    group_first,
    group_head,
    headline_words,
    limits_words,
    near,
    not_made_words,
    not_yet_words,
    number_words,
    set_words,
    settings_words,
    shared_cautions,
    small,
    together_words,
    true_words,
    waits_words,
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
    sheets = tuple(sheets_of(document_of(view)))
    if not sheets:
        return None
    before = int(view.version) - 1 if view.version else 0
    version = f"v{view.version}" if view.version else "not kept in a book"
    head = Head(view.job.name or "A job", view.made.replace(microsecond=0), version, f"v{before}" if before else "")
    content = pdf_bytes(head, sheets, paper)
    _can_be_written(out)
    return Ready(out / f"{_file_name(view.job.name)}.pdf", content)


def sheets_of(plan: PlanDocument) -> Iterator[Sheet]:
    """What is printed: the answer first, then stock by stock, then the order of cuts."""
    against = [text for text in against_words(plan, "fit-unlikely", *TOLD_WITH_CUTS) if text not in plan.short]
    if plan.fits or (plan.layout is not None and (against or plan.not_made)):
        whole = ("" if plan.short else f"{headline_words(plan)}.", together_words(plan), *better_words(plan))
        notes = (*not_yet_words(plan), *plan.short, *filter(None, whole), *against, *not_made_words(plan))
        yield FitSheet("Does it go together?", tuple(_fit_line(fit, plan) for fit in plan.fits), notes)
    names = letters(plan.layout.stock) if plan.layout is not None else {}
    yield from _boards(plan, names)
    if plan.settings is not None:
        cautions, groups = (*not_yet_words(plan), *plan.cautions), tuple(_groups(plan, names))
        yield TicketSheet("Order of cuts", groups, cautions, _counted(plan), not_made_words(plan))


def _fit_line(fit: PlanFit, plan: PlanDocument) -> FitLine:
    unit = plan.unit
    if fit.chance is None:
        return FitLine(fit.name, limits_words(fit, unit), small(fit.meant_mm, unit), "", "not known: no shop is known")
    ends = fit.interval95_mm
    return FitLine(
        fit.name,
        limits_words(fit, unit),
        small(fit.mean_mm, unit),
        "" if ends is None else f"{small(ends[0], unit)} to {small(ends[1], unit)} (95 %)",
        chance_words(fit.chance),
        because_words(fit),
        beside_words(fit),
    )


def _boards(plan: PlanDocument, names: Mapping[str, str]) -> Iterator[BoardSheet]:
    def show(mm: float) -> str:
        return near(mm, plan.unit)

    for board in plan.layout.stock if plan.layout is not None else ():
        yield BoardSheet(
            board.title,
            board_drawing(board, show=show, letters=names),
            board_key(board, show=show, letters=names),
            ("Work from the last cut edge each time; do not draw all the lines at once.",),
        )


def _groups(plan: PlanDocument, names: Mapping[str, str]) -> Iterator[TicketGroup]:
    for group in grouped(plan.order):
        head, first = group_head(group), tuple(said for said in group_first(group) if said != waits_words(group[0]))
        common = shared_cautions(group) if len(group) > 1 else head.cautions
        lines = tuple(_line(ticket, names, common, first) for ticket in group)
        number, nearest = number_words(head) if head.setting else ("", "")
        notes = tuple(note for note in (nearest, true_words(head, plan.unit), head.first) if note)
        yield TicketGroup(set_words(head).partition(" at ")[0], number, lines, notes, common, first)


def _line(ticket: PlanTicket, names: Mapping[str, str], common: tuple[str, ...], first: tuple[str, ...]) -> TicketLine:
    made = " ".join(f"{names[part]}{copy}" for part, _, copy in (name.partition("@") for name in ticket.parts))
    return TicketLine(
        int(ticket.id.removeprefix("T")),
        f"{ticket.text} ({made})" if made else ticket.text,
        f"face {ticket.face}; {ticket.edge}",
        f"from {ticket.piece}",
        boxes=0 if ticket.waits else 1,
        cautions=tuple(said for said in ticket.cautions if said not in common),
        first=tuple(said for said in before_words(ticket) if said not in (*first, waits_words(ticket))),
        waits=waits_words(ticket),
    )


def _counted(plan: PlanDocument) -> tuple[str, ...]:
    counted = settings_words(plan)
    return (f"{counted} Walks between stations: {plan.walks}.",) if counted else ()


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
