"""Plans that are kept in a book, as they were told: never worked out anew while somebody cuts by them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.errors import InputRefused
from trued.shapes import Drawing
from trued.shop.feature import said
from trued.units import Unit
from trued.usecases.json_node import Node
from trued.usecases.kept_drawings import board_of
from trued.usecases.kept_fit import KeptFit, better_of, fit_of, is_short, together_of
from trued.usecases.kept_ticket import KeptTicket, tickets_of
from trued.usecases.plan_words import MONEY
from trued.usecases.shop_now import opened
from trued.usecases.since_plan import since_plan

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.rows import PlanRow


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One kept plan in the list; `done` of `tickets` are done."""

    id: str
    name: str
    version: str
    made: datetime
    tickets: int
    done: int


@dataclass(frozen=True, slots=True)
class KeptBoard:
    """One stock piece, drawn, and what its letters stand for."""

    title: str
    drawing: Drawing
    key: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """A plan as its pages tell it.

    problems: what stands against it, but for `unsupported`: numbers of the cuts that table, wing and sled do not carry.
    short: whether parts have no place in the stock. parts: (id, copies, size in words, held back). joints: what each
    joint of an assembly made of its parts. better: what would make the fits likelier. sheets: None when they are gone.
    since: what has happened since it was made that touches its open cuts; "" where nothing has.
    """

    id: str
    name: str
    version: str
    made: datetime
    text: str
    unit: Unit
    begun: bool
    problems: tuple[str, ...]
    unsupported: tuple[int, ...]
    short: bool
    safety: tuple[str, ...]
    fits: tuple[KeptFit, ...]
    together: str
    better: tuple[str, ...]
    boards: tuple[KeptBoard, ...]
    tickets: tuple[KeptTicket, ...]
    parts: tuple[tuple[str, int, str, bool], ...]
    joints: tuple[str, ...]
    cost: str
    settings: str
    true_first: tuple[tuple[str, str, float, float], ...]
    assumed: tuple[str, ...]
    stale: tuple[str, ...]
    cautions: tuple[str, ...]
    sheets: Path | None
    instruments: tuple[str, ...]
    since: str = ""


_ELSEWHERE = ("support-fails", "fit-unlikely")
"""Problems that stand with their cut or their fit."""


def list_plans(book: Path) -> tuple[PlanLine, ...]:
    """Every kept plan, the latest first."""
    with opened(book) as kept:
        names = {job.id: job.name for job in kept.jobs()}
        lines = [
            PlanLine(row.id, names[row.job], row.version, row.made, _count(row), len(kept.done(row.id)))
            for row in kept.plans()
        ]
    return tuple(reversed(lines))


def kept_plan(id: str, book: Path) -> KeptPlan:
    """The plan of that id; InputRefused when the book has none."""
    with opened(book) as kept:
        row = found_plan(kept, id)
        job = next(job for job in kept.jobs() if job.id == row.job)
        done, shop = set(kept.done(id)), kept.shop()
        told = Node.parsed(row.json)
        unit = unit_of(job.text, shop.unit)
        since = since_plan(kept, book, row, told, done, unit)
    order, bound = told["settings"].number, told["settings_bound"].number
    sheets = [Path(path) for path in told["sheets"].texts]
    return KeptPlan(
        id=row.id,
        name=job.name,
        version=row.version,
        made=row.made,
        text=job.text,
        unit=unit,
        begun=row.frozen is not None,
        problems=tuple(p["text"].text for p in told["problems"] if p["code"].text not in _ELSEWHERE),
        unsupported=tuple(_unsupported(told)),
        short=is_short(told),
        safety=tuple(one["text"].text for one in told["safety"]),
        fits=tuple(fit_of(fit, unit) for fit in told["fits"]),
        together=together_of(told),
        better=tuple(better_of(told)),
        boards=tuple(_boards(told, unit)),
        tickets=tuple(tickets_of(told, unit, done)),
        parts=tuple(_part(part) for part in told["parts"]),
        joints=tuple(line for one in told["assemblies"] for line in one["said"].texts),
        cost=_cost(told["layout"]),
        settings="" if order is None else _settings(int(order), int(bound or 0)),
        true_first=tuple(_first(one) for one in told["true_first"]),
        assumed=tuple(said(name) for name in told["assumed"].texts),
        stale=tuple(said(name) for name in told["stale"].texts),
        cautions=told["cautions"].texts,
        sheets=next((path for path in sheets if path.suffix == ".pdf" and path.is_file()), None),
        instruments=tuple(instrument.id for instrument in shop.instruments),
        since=since,
    )


def found_plan(book: Book, id: str) -> PlanRow:
    """The row of that id; InputRefused when there is none."""
    row = next((plan for plan in book.plans() if plan.id == id), None)
    if row is None:
        raise InputRefused.of("plan", id, "There is no such plan in this book.")
    return row


def unit_of(text: str, usual: Unit) -> Unit:
    """The unit of a job's bare numbers."""
    from trued.job.read import read_job

    try:
        return read_job(text, unit=None).unit
    except InputRefused:
        return usual


def _unsupported(told: Node) -> Iterator[int]:
    failing = {p["about"].text for p in told["problems"] if p["code"].text == "support-fails"}
    for number, ticket in enumerate(told["order"], 1):
        if ticket["id"].text in failing:
            yield number


def _count(row: PlanRow) -> int:
    return sum(1 for _ in Node.parsed(row.json)["order"])


def _boards(told: Node, unit: Unit) -> Iterator[KeptBoard]:
    names: dict[str, int] = {}
    for piece in told["layout"]["stock"]:
        for placed in piece["placements"]:
            names.setdefault(placed["part"].text, len(names))
    for piece in told["layout"]["stock"]:
        title = f"{piece['id'].text}, piece {piece['copy'].number or 1:.0f}"
        drawing, key = board_of(piece, title, names, unit)
        yield KeptBoard(f"{title} ({piece['material'].text})", drawing, key)


def _part(part: Node) -> tuple[str, int, str, bool]:
    return part["id"].text, int(part["quantity"].number or 0), part["text"].text, part["held_back"].true


def _first(one: Node) -> tuple[str, str, float, float]:
    return one["check"].text, one["fit"].text, one["minutes"].number or 0.0, one["chance_gain"].number or 0.0


def _cost(layout: Node) -> str:
    """What it costs, and how much less it could cost at most."""
    cost, bound, kind = layout["cost"][0].number, layout["bound"].number, layout["cost"][1].text
    if cost is None or bound is None:
        return ""
    sizes = [f"{x:.2f}" if kind == "price" else f"{x:.3f} m²" for x in (cost, bound)]
    what = f"The stock cut into costs {sizes[0]} ({MONEY})" if kind == "price" else f"The stock cut into is {sizes[0]}"
    if cost - bound <= 1e-9 * max(1.0, cost):
        return f"{what}; no layout needs less."
    return f"{what}; none can come to less than {sizes[1]}."


def _settings(settings: int, bound: int) -> str:
    least = "no order needs fewer" if settings == bound else f"at least {bound} are needed"
    return f"{settings} settings of stop and fence; {least}."
