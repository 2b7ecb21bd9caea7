"""Tickets: the order of cuts as the person at the saw sees it, one cut a ticket."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trued.plan.order import Done, Order
from trued.plan.pieces import to_mm
from trued.plan.station import Station, needs_holding
from trued.plan.tree import Axis, Cut, Node, Part, Sized, Waste, parts
from trued.shop.capability import Capability
from trued.shop.setting import SettingRounding
from trued.units import Unit, as_decimal, as_fraction, as_mm


@dataclass(frozen=True, slots=True)
class Ticket:
    """One cut. `wanted_mm` is the size to come out, `setting_mm` where stop or fence is set for it (None: not set,
    or no shop is known to correct it by); `remainder_mm` is what the scale's rounding leaves over. `after` names the
    tickets that must be done before. `new_setting`: stop or fence is moved for this cut.
    """

    id: str
    station: str
    setting: str
    new_setting: bool
    wanted_mm: float | None
    setting_mm: float | None
    remainder_mm: float
    scale_text: str
    piece: str
    parts: tuple[str, ...]
    text: str
    edge: str
    first: str
    cautions: tuple[str, ...]
    after: tuple[str, ...]


def tickets(
    order: Order, capability: Capability | None, unit: Unit, never_over: frozenset[str] = frozenset()
) -> tuple[Ticket, ...]:
    """The tickets of an order. Parts in `never_over` have a one-sided limit: their setting is rounded down."""
    number = {done.index: f"T{place}" for place, done in enumerate(order.cuts, 1)}
    return tuple(_tickets(order.cuts, number, capability, unit, never_over))


def _tickets(
    cuts: Sequence[Done], number: dict[int, str], capability: Capability | None, unit: Unit, never_over: frozenset[str]
) -> Iterator[Ticket]:
    seen: set[int] = set()
    for done in cuts:
        cut, station = done.task.cut, done.task.key[0]
        size = done.task.key[1]
        made = _made(cut)
        new = done.setting > 0 and done.setting not in seen
        seen.add(done.setting)
        rounding: SettingRounding = "down" if any(name.partition("@")[0] in never_over for name in made) else "nearest"
        set_to, left = _corrected(station, size, capability, rounding)
        after = done.task.after
        yield Ticket(
            id=number[done.index],
            station=station.value,
            setting=f"S{done.setting}" if done.setting else "",
            new_setting=new,
            wanted_mm=None if size is None else to_mm(size),
            setting_mm=set_to,
            remainder_mm=left,
            scale_text=scale_text(set_to if set_to is not None else None if size is None else to_mm(size), unit),
            piece=f"{done.task.used.stock.id}/{done.task.used.copy}",
            parts=made,
            text=_told(cut, station, made),
            edge=_edge(cut, station),
            first=_first(station, new, cut),
            cautions=cautions(cut, station),
            after=() if after is None else (number[after],),
        )


def scale_text(mm: float | None, unit: Unit) -> str:
    """What to set the scale to, as the scale is marked; finer than 1/64 in comes as a decimal beside it."""
    if mm is None:
        return ""
    if unit == "mm":
        return as_mm(mm, 1).text
    shown = as_fraction(mm, 64)
    return shown.text if abs(shown.remainder.mm) < 1e-6 else f"{as_decimal(mm, 4).text} ({shown.text}, nearest 1/64)"


def _corrected(
    station: Station, size: int | None, capability: Capability | None, rounding: SettingRounding
) -> tuple[float | None, float]:
    if size is None or capability is None or station is Station.FLOOR:
        return None, 0.0
    choose = capability.setting_for if station is Station.SLED else capability.rip_setting_for
    setting = choose(to_mm(size), rounding)
    return setting.reading_mm, setting.remainder_mm


def _made(cut: Cut) -> tuple[str, ...]:
    """Parts that get a size from this cut: all that lie in the piece that was sized."""
    side: Node | None = cut.low if cut.sized is Sized.LOW else cut.high if cut.sized is Sized.HIGH else None
    return tuple(f"{part.want}@{part.copy}" for part in parts(side)) if side is not None else ()


def _told(cut: Cut, station: Station, made: tuple[str, ...]) -> str:
    verb = "Crosscut" if cut.axis is Axis.ACROSS else "Rip"
    if cut.sized is Sized.NONE:
        trimmed = cut.low is None or cut.high is None or isinstance(cut.low, Waste) or isinstance(cut.high, Waste)
        where = "end" if cut.axis is Axis.ACROSS else "edge"
        return f"{verb} the {where} clean" if trimmed else f"{verb} the piece free"
    finished = [child for child in (cut.low, cut.high) if isinstance(child, Part)]
    kind = "" if finished else " blank for"
    how = " on the floor, along a guide" if station is Station.FLOOR else ""
    return f"{verb}{kind} {', '.join(made)}{how}"


def _edge(cut: Cut, station: Station) -> str:
    if station is Station.FLOOR:
        return "mark from the reference end and edge; saw on the waste side"
    if cut.axis is Axis.ACROSS:
        if cut.sized is Sized.NONE:
            return "reference edge against the fence, stop out of the way"
        end = "squared end" if cut.sized is Sized.LOW else "far end"
        return f"reference edge against the fence, {end} against the stop"
    return "reference edge along the rip fence, reference face down"


def _first(station: Station, new: bool, cut: Cut) -> str:
    if cut.sized is Sized.NONE or not new:
        return ""
    if station is Station.FLOOR:
        return "Measure twice from the reference end before the saw starts."
    return "Cut a scrap first and measure it; then the first piece, every fifth, and the last."


def cautions(cut: Cut, station: Station) -> tuple[str, ...]:
    """The usual cautions of the trade for one cut; the saw maker's manual goes before them."""
    if station is Station.RIP:
        said = ["Riving knife and guard on; push block for the last foot; stand out of the line of the board."]
        if cut.run > 457 * 10_000_000:
            said.append("Long piece: outfeed support behind the saw before you start.")
        return tuple(said)
    if station is Station.FLOOR:
        return ("Sheet flat on foam, depth just through it, both hands on the saw; lift with a second person.",)
    said = ["Hands 6 in or more from the kerf; saw off and blade still before the offcut is taken away."]
    if needs_holding(cut):
        said.append("Short keeper: clamp it down; do not hold it by hand.")
    return tuple(said)
