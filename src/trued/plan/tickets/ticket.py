"""Tickets: the order of cuts as the person at the saw sees it, one cut a ticket."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from trued.equipment.scale_setting import Setting
from trued.plan.layout.cut_tree import Cut, Node, Sized, parts
from trued.plan.layout.pieces import to_mm
from trued.plan.order.cut_groups import setting_id
from trued.plan.order.order import Order, ScheduledCut
from trued.plan.stations.station import Station
from trued.plan.stations.steps import steps_words
from trued.plan.tickets import ticket_words as words
from trued.units import Unit


@dataclass(frozen=True, slots=True)
class Work:
    """The piece of wood of one cut before it, and where the cut goes; sizes in mm.

    run:   `across` or `along`, as the blade runs to the length of the piece.
    at_mm: from its reference end or edge to the kerf.
    """

    length_mm: float
    width_mm: float
    thickness_mm: float
    run: str
    at_mm: float


@dataclass(frozen=True, slots=True)
class Ticket:
    """One cut.

    setting, new_setting: the id of the setting of stop or fence ("" where nothing is set), and whether it is moved now.
    wanted_mm:            the size to come out; None for a trim and for a cut that only frees a piece.
    setting_mm:           where the scale is set for it; None: nothing is set, or no shop is known to correct it by.
    remainder_mm:         what the scale's rounding adds to the wanted size.
    scale_text, wanted_text: the two as a person reads them; "" for None.
    piece:                the stock piece it comes from, `B1/1`. parts: the copies that get a size from this cut.
    face, edge:           how the piece lies. first: what to measure before and during the run.
    after:                the tickets that must be done before.
    work:                 what lies on the bench for it. blade_mm: how high the blade is set; None off the saw.
    before:               what is done, and ticked, before the number shows. unchecked: what nobody has checked here
                          and it rests on. waits: the fact that is missing; then it has no number.
    """

    id: str
    station: str
    setting: str
    new_setting: bool
    wanted_mm: float | None
    setting_mm: float | None
    remainder_mm: float
    scale_text: str
    wanted_text: str
    piece: str
    parts: tuple[str, ...]
    text: str
    face: str
    edge: str
    first: str
    cautions: tuple[str, ...]
    after: tuple[str, ...]
    work: Work
    blade_mm: float | None = None
    before: tuple[str, ...] = ()
    waits: str | None = None
    unchecked: tuple[str, ...] = ()


def tickets(
    order: Order, readings: Mapping[int, Setting] | None, unit: Unit, scales: Mapping[Station, Unit] | None = None
) -> tuple[Ticket, ...]:
    """The tickets of an order. readings: number of the setting -> where to set it; None where no shop is known.

    unit: what sizes are told in. scales: what the scales of stop and fence are marked in, where that is another.
    """
    return tuple(_tickets(order, readings or {}, unit, scales or {}))


def ticket_ids(order: Order) -> dict[int, str]:
    """Index of the cut -> the id of its ticket, T1, T2 … in the order of cutting."""
    return {done.index: f"T{place}" for place, done in enumerate(order.cuts, 1)}


def _tickets(
    order: Order, readings: Mapping[int, Setting], unit: Unit, scales: Mapping[Station, Unit]
) -> Iterator[Ticket]:
    number = ticket_ids(order)
    seen = {0}
    gone = {f"{part.want}@{part.copy}" for lost in order.lost for part in parts(lost.cut)}
    for done in order.cuts:
        new = done.setting not in seen
        seen.add(done.setting)
        scale = scales.get(done.task.key[0], unit)
        ticket = _ticket(done, number, readings.get(done.setting), unit, scale, new=new)
        yield replace(ticket, parts=tuple(name for name in ticket.parts if name not in gone)) if gone else ticket


def _ticket(
    done: ScheduledCut, number: Mapping[int, str], reading: Setting | None, unit: Unit, scale: Unit, *, new: bool
) -> Ticket:
    cut, (station, size), waits, ruling = done.task.cut, done.task.key, done.task.after, done.task.ruling
    made, wanted = made_by(cut), cut.setting if cut.setting is not None else size
    set_to = None if reading is None or ruling.waits else reading.reading_mm
    return Ticket(
        id=number[done.index],
        station=station.value,
        setting=setting_id(done) if done.setting else "",
        new_setting=new,
        wanted_mm=None if wanted is None else to_mm(wanted),
        setting_mm=set_to,
        remainder_mm=0.0 if reading is None or ruling.waits else reading.remainder_mm,
        scale_text=words.set_text(set_to, scale, unit),
        wanted_text=words.wanted_text(cut, station, wanted, unit),
        piece=f"{done.task.used.stock.id}/{done.task.used.copy}",
        parts=made,
        text=words.told(cut, station, made, unit),
        face=words.face(station),
        edge=words.edge(cut, station),
        first=words.first(cut, station) if new or not done.setting else "",
        cautions=words.cautions(cut, station),
        after=() if waits is None else (number[waits],),
        work=_work(cut, done),
        blade_mm=ruling.blade_mm,
        before=steps_words(ruling.before, unit),
        waits=ruling.waits or None,
    )


def _work(cut: Cut, done: ScheduledCut) -> Work:
    thick = done.task.used.stock.thickness
    return Work(to_mm(cut.piece.length), to_mm(cut.piece.width), to_mm(thick), cut.axis.value, to_mm(cut.position))


def made_by(cut: Cut) -> tuple[str, ...]:
    """Parts that get a size from this cut, `side@1`: all that lie in the piece that was sized."""
    side: Node | None = cut.low if cut.sized is Sized.LOW else cut.high if cut.sized is Sized.HIGH else None
    return tuple(f"{part.want}@{part.copy}" for part in parts(side)) if side is not None else ()


def grouped(made: Iterable[Ticket]) -> tuple[tuple[Ticket, ...], ...]:
    """Tickets that follow one another at one station with one setting."""
    return tuple(tuple(group) for _, group in groupby(made, key=lambda ticket: (ticket.station, ticket.setting)))
