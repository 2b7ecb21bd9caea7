"""Plans that are kept in a book, as they were told: never worked out anew while somebody cuts by them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.drawing.shapes import Drawing
from trued.errors import BookRefused, InputRefused
from trued.plan.document import PlanDocument
from trued.render.board import KeyLine, board_drawing, board_key, letters
from trued.units import Unit
from trued.usecases.plan.formats import OtherFormat, read_plan
from trued.usecases.plan.words import (
    TOLD_WITH_CUTS,
    against_words,
    better_words,
    cost_words,
    cuts_words,
    headline_words,
    near,
    not_yet_words,
    settings_words,
    whole_words,
)
from trued.usecases.saved.closed_since import Closing, closed_since
from trued.usecases.saved.plan_staleness import since_plan
from trued.usecases.saved.saved_fit import KeptFit, fit_of
from trued.usecases.saved.saved_ticket import KeptTicket, tickets_of
from trued.usecases.shop.shop_now import opened

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.rows import MarkRow, PlanRow


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One kept plan in the list; `done` of `tickets` are done. other: that it is of another version of this program."""

    id: str
    name: str
    version: str
    made: datetime
    tickets: int
    done: int
    other: str


@dataclass(frozen=True, slots=True)
class KeptBoard:
    """One stock piece, drawn, and what its letters stand for."""

    title: str
    drawing: Drawing
    key: tuple[KeyLine, ...]


@dataclass(frozen=True, slots=True)
class KeptLine:
    """What is known of a kept plan whatever its format. marked: ids of its cuts that are done, in that order; marks:
    what became of each cut that is no longer open."""

    id: str
    name: str
    version: str
    made: datetime
    text: str
    unit: Unit
    marked: tuple[str, ...]
    instruments: tuple[str, ...]
    marks: tuple[MarkRow, ...] = ()


@dataclass(frozen=True, slots=True)
class KeptOther:
    """A plan of another format: its job and its marks stand, its numbers are not shown."""

    line: KeptLine
    said: str


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """A plan as its pages tell it: the document, and what came after it.

    problems: what stands against it, but for what stands with its cut or fit. closed: why open cuts are not made as
    things are. since: what has happened since it was made that touches its open cuts; "" where nothing has.
    sheets: None when they are gone, or
    tell a number for a cut that has been closed since.
    """

    line: KeptLine
    plan: PlanDocument
    headline: str
    begun: bool
    problems: tuple[str, ...]
    closed: tuple[str, ...]
    safety: tuple[str, ...]
    fits: tuple[KeptFit, ...]
    together: str
    better: tuple[str, ...]
    boards: tuple[KeptBoard, ...]
    tickets: tuple[KeptTicket, ...]
    cost: str
    settings: str
    sheets: Path | None
    since: str

    @property
    def begin(self) -> KeptTicket | None:
        """The first open cut that can be made now."""
        return next((ticket for ticket in self.tickets if ticket.offered), None)

    @property
    def skipped(self) -> tuple[KeptTicket, ...]:
        """The cuts that were skipped."""
        return tuple(ticket for ticket in self.tickets if ticket.skipped)


def list_plans(book: Path) -> tuple[PlanLine, ...]:
    """Every kept plan, the latest first."""
    with opened(book) as kept:
        names = {job.id: job.name for job in kept.jobs()}
        lines = [_listed(row, names[row.job], len(kept.done(row.id))) for row in kept.plans()]
    return tuple(reversed(lines))


def _listed(row: PlanRow, name: str, done: int) -> PlanLine:
    """One that cannot be read hides no other."""
    cuts, other = 0, ""
    try:
        plan = read_plan(row.json)
    except BookRefused:
        other = "cannot be read"
    else:
        cuts = plan.cuts if isinstance(plan, OtherFormat) else len(plan.order)
        other = "of another version of trued" if isinstance(plan, OtherFormat) else ""
    return PlanLine(row.id, name, row.version, row.made, cuts, done, other)


def kept_plan(id: str, book: Path) -> KeptPlan:
    """The plan of that id; InputRefused when the book has none, or only one of another format."""
    found = find_plan(id, book)
    if isinstance(found, KeptOther):
        raise InputRefused.of("plan", id[:8], found.said)
    return found


def find_plan(id: str, book: Path) -> KeptPlan | KeptOther:
    """The plan of that id, or what is left to tell of one of another format; InputRefused when the book has none."""
    with opened(book) as kept:
        row = found_plan(kept, id)
        job = next(job for job in kept.jobs() if job.id == row.job)
        marks, shop, plan = kept.marks(id), kept.shop(), read_plan(row.json)
        done = tuple(mark.ticket for mark in marks if mark.what == "done")
        unit = plan.unit if isinstance(plan, PlanDocument) else unit_of(job.text, shop.unit)
        instruments = tuple(instrument.id for instrument in shop.instruments)
        line = KeptLine(row.id, job.name, row.version, row.made, job.text, unit, done, instruments, marks)
        if isinstance(plan, OtherFormat):
            return KeptOther(line, plan.said)
        since = since_plan(kept, book, row, plan, set(done))
    return _kept(line, plan, since, closed_since(plan, book, done), begun=row.frozen is not None)


def _kept(line: KeptLine, plan: PlanDocument, since: str, closing: Closing, *, begun: bool) -> KeptPlan:
    sheets = [Path(path) for path in plan.sheets]
    tickets = tuple(tickets_of(plan, {mark.ticket: mark for mark in line.marks}, closing))
    shut = any(ticket.closed and not ticket.cut.waits for ticket in tickets)
    return KeptPlan(
        line=line,
        plan=plan,
        headline=headline_words(plan),
        begun=begun,
        problems=against_words(plan, *_ELSEWHERE),
        closed=tuple(_closed(tickets)),
        safety=not_yet_words(plan),
        fits=tuple(fit_of(fit, plan.unit) for fit in plan.fits),
        together=whole_words(plan),
        better=better_words(plan),
        boards=tuple(_boards(plan)),
        tickets=tickets,
        cost="" if plan.layout is None else cost_words(plan.layout, plan.unit),
        settings=settings_words(plan),
        sheets=None if shut else next((path for path in sheets if path.suffix == ".pdf" and path.is_file()), None),
        since=since,
    )


_ELSEWHERE = ("fit-unlikely", *TOLD_WITH_CUTS)
"""Problems that stand with their cut or their fit."""


def _closed(tickets: Sequence[KeptTicket]) -> Iterator[str]:
    """Each reason once, with the numbers of its cuts."""
    for reason in dict.fromkeys(ticket.closed for ticket in tickets if ticket.closed):
        ids = [ticket.id for ticket in tickets if ticket.closed == reason]
        yield f"{'Cut' if len(ids) == 1 else 'Cuts'} {cuts_words(ids).replace('T', '')}: {reason}"


def found_plan(book: Book, id: str) -> PlanRow:
    """The row of that id; InputRefused when there is none."""
    row = next((plan for plan in book.plans() if plan.id == id), None)
    if row is None:
        raise InputRefused.of("plan", id, "There is no such plan in this book.")
    return row


def unit_of(text: str, usual: Unit) -> Unit:
    """The unit of a job's bare numbers."""
    from trued.job.file.read import read_job

    try:
        return read_job(text, unit=None).unit
    except InputRefused:
        return usual


def _boards(plan: PlanDocument) -> Iterator[KeptBoard]:
    boards = plan.layout.stock if plan.layout is not None else ()
    names = letters(boards)

    def show(mm: float) -> str:
        return near(mm, plan.unit)

    for board in boards:
        drawing = board_drawing(board, show=show, letters=names)
        yield KeptBoard(f"{board.title} ({board.material})", drawing, board_key(board, show=show, letters=names))
