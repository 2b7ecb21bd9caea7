"""Plans that are kept in a book, as they were told: never worked out anew while somebody cuts by them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.errors import InputRefused
from trued.plan.problem import SHORT
from trued.shapes import Drawing
from trued.shop.feature import said
from trued.units import Unit
from trued.usecases.fit_drawing import fit_picture
from trued.usecases.json_node import Node
from trued.usecases.kept_drawings import board_of
from trued.usecases.plan_words import (
    MONEY,
    bracketed,
    chance_words,
    held_back_words,
    limits_words,
    not_seen_words,
    small,
    with_test_pieces_words,
)
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
class KeptFit:
    """One fit in words; `drawing` None while no spread is known.

    beside: what stands beside the chance where it does not rest on this shop.
    """

    name: str
    needed: str
    expected: str
    spread: str
    chance: str
    beside: str
    sure: bool
    because: tuple[str, ...]
    drawing: Drawing | None


@dataclass(frozen=True, slots=True)
class KeptBoard:
    """One stock piece, drawn, and what its letters stand for."""

    title: str
    drawing: Drawing
    key: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class KeptTicket:
    """One cut as the person at the saw sees it; number counts from 1. said: the number to set, or where
    to mark a line; "" where there is neither."""

    id: str
    number: int
    station: str
    said: str
    beside: str
    true: str
    new_setting: bool
    piece: str
    parts: tuple[str, ...]
    text: str
    face: str
    edge: str
    first: str
    cautions: tuple[str, ...]
    after: tuple[str, ...]
    done: bool


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
        short=_short(told),
        safety=tuple(one["text"].text for one in told["safety"]),
        fits=tuple(_fit(fit, unit) for fit in told["fits"]),
        together=_together(told),
        better=tuple(_better(told)),
        boards=tuple(_boards(told, unit)),
        tickets=tuple(_tickets(told, unit, done)),
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


def _short(told: Node) -> bool:
    return any(problem["code"].text in SHORT for problem in told["problems"])


def _unsupported(told: Node) -> Iterator[int]:
    failing = {p["about"].text for p in told["problems"] if p["code"].text == "support-fails"}
    for number, ticket in enumerate(told["order"], 1):
        if ticket["id"].text in failing:
            yield number


def _count(row: PlanRow) -> int:
    return sum(1 for _ in Node.parsed(row.json)["order"])


def _together(told: Node) -> str:
    """Whether all fits hold in one and the same piece; "" where it was not told or there is one fit only."""
    chance = told["job_chance"].number
    fits = list(told["fits"])
    if chance is None or len(fits) < 2 or _short(told):
        return ""
    least = min(fits, key=lambda fit: fit["chance"].number or 0.0)
    return f"{chance_words(chance)}{bracketed(_not_seen(least))}"


def _better(told: Node) -> Iterator[str]:
    """What would make it likelier: the stop corrected by first parts, parts cut to an opening that is measured."""
    first = with_test_pieces_words(told["job_chance"].number, told["job_chance_with_test_pieces"].number)
    if first and not _short(told):
        yield first
    for one in told["cut_to_fit"]:
        yield held_back_words(one["part"].text, one["side"].text, one["fit"].text, one["then"].number or 0.0)


def _not_seen(fit: Node) -> str:
    shares = {label: share.number or 0.0 for label, share in fit["shares"].items()}
    return not_seen_words(shares, fit["assumed"].texts)


def _fit(fit: Node, unit: Unit) -> KeptFit:
    from trued.usecases.plan_view import FitView

    low, high = fit["limits_mm"][0].number, fit["limits_mm"][1].number
    mean, sd, chance = fit["mean_mm"].number or 0.0, fit["sd_mm"].number, fit["chance"].number
    within = [node.number for node in fit["interval95_mm"]]
    between = [small(x, unit) for x in within if x is not None]
    needed = limits_words(FitView("", 0.0, (low, high), None), unit)
    assumed = set(fit["assumed"].texts)
    shares = [(label, share.number or 0.0) for label, share in fit["shares"].items()]
    return KeptFit(
        name=fit["name"].text,
        needed=needed,
        expected=small(mean, unit),
        spread=" and ".join(between),
        chance="not known: no shop is known" if chance is None else chance_words(chance),
        beside="" if chance is None else _not_seen(fit),
        sure=chance is not None and chance >= 0.95,
        because=tuple(f"{label}{' (assumed)' if label in assumed else ''}" for label, share in shares if share >= 0.05),
        drawing=None
        if not sd
        else fit_picture(
            fit["name"].text, mean, sd, (low, high), dict(shares), tuple(assumed), chance_words(chance or 0.0), unit
        ),
    )


def _boards(told: Node, unit: Unit) -> Iterator[KeptBoard]:
    names: dict[str, int] = {}
    for piece in told["layout"]["stock"]:
        for placed in piece["placements"]:
            names.setdefault(placed["part"].text, len(names))
    for piece in told["layout"]["stock"]:
        title = f"{piece['id'].text}, piece {piece['copy'].number or 1:.0f}"
        drawing, key = board_of(piece, title, names, unit)
        yield KeptBoard(f"{title} ({piece['material'].text})", drawing, key)


def _tickets(told: Node, unit: Unit, done: set[str]) -> Iterator[KeptTicket]:
    for number, ticket in enumerate(told["order"], 1):
        text = ticket["scale_text"].text or ticket["wanted_text"].text
        number_said, _, beside = text.partition(" (")
        yield KeptTicket(
            id=ticket["id"].text,
            number=number,
            station=ticket["station"].text,
            said=number_said,
            beside=beside.rstrip(")"),
            true=_true(ticket, unit),
            new_setting=ticket["new_setting"].true,
            piece=ticket["piece"].text,
            parts=ticket["parts"].texts,
            text=ticket["text"].text,
            face=ticket["face"].text,
            edge=ticket["edge"].text,
            first=ticket["first"].text,
            cautions=ticket["cautions"].texts,
            after=ticket["after"].texts,
            done=ticket["id"].text in done,
        )


def _true(ticket: Node, unit: Unit) -> str:
    """What true size the scale then gives."""
    wanted, left = ticket["wanted_text"].text, ticket["remainder_mm"].number
    if not wanted:
        return ""
    if not ticket["setting"]:
        return ""
    if ticket["setting_mm"].number is None:
        return f"for a true {wanted}; not corrected, because no shop is known"
    if left is None or abs(left) < 0.005:
        return f"for a true {wanted}"
    return f"for a true {wanted}; expected {small(abs(left), unit)} {'over' if left > 0 else 'under'} it"


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
