"""Support for the cuts of a plan that are made on the sled: the facts of shop and wood put together for the sums."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from trued.errors import InputRefused
from trued.plan.order import Done, Order
from trued.plan.pieces import to_mm
from trued.plan.sled_cut import Blade, Extension, Piece, Side, Sled, SledCut
from trued.plan.statics import Ground
from trued.plan.station import Station
from trued.plan.support import SupportFinding, support_of
from trued.plan.ticket import ticket_ids
from trued.plan.tree import Cut, Sized
from trued.shop.fixture import Fixture, Wing
from trued.shop.shop import Shop
from trued.wood.density import density_kg_m3

TOOTH_MM = 6.35
"""How far the teeth stand above the wood: 1/4 in, common practice."""


@dataclass(frozen=True, slots=True)
class TicketSupport:
    """The verdict for one cut on the sled; `finding` is None where a fact lacks, and `lacks` says which."""

    ticket: str
    finding: SupportFinding | None
    lacks: str = ""


def sled_support(order: Order, shop: Shop, *, tail_held: bool) -> tuple[TicketSupport, ...]:
    """Support of every cut on the sled, in the order of cutting.

    tail_held: the person puts a support of the base's height under the tail (the continuous method says so).
    """
    number = ticket_ids(order)
    bench = _bench(shop)
    seen: dict[object, SupportFinding | str] = {}
    found = []
    for done in order.cuts:
        if done.task.key[0] is Station.SLED:
            verdict = _verdict(done, bench, seen, tail_held=tail_held)
            ticket = number[done.index]
            found.append(
                TicketSupport(ticket, None, verdict) if isinstance(verdict, str) else TicketSupport(ticket, verdict)
            )
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Bench:
    """Table, sled and supports of a shop; the maker's bans."""

    table: Ground
    sled: Sled
    radius_mm: float
    highest_mm: float | None
    extensions: tuple[Extension, ...]
    forbids: frozenset[str]


def _bench(shop: Shop) -> _Bench | str:
    """What all cuts share, or the sentence that says which facts lack."""
    saw, sled, blade = shop.saw, shop.sled, shop.blade
    if saw is None or sled is None:
        return "The shop has no saw or no sled."
    facts: dict[str, float | None] = {
        f"saw: table to the {side} side": shop.table_edge(side) for side in ("keeper", "offcut", "operator", "far")
    }
    facts["blade: diameter"] = blade.diameter_mm if blade is not None else None
    facts |= {f"{sled.id}: {name}": sled.number(name) for name in _SLED_FACTS}
    lacking = [name for name, value in facts.items() if value is None]
    lacking += [f"{sled.id}: fence"] if not sled.word("fence") else []
    if lacking:
        return f"Not known: {'; '.join(lacking)}."
    known = {name.rpartition(": ")[2]: value for name, value in facts.items() if value is not None}
    edges = (known[f"table to the {side} side"] for side in ("keeper", "offcut", "operator", "far"))
    table = Ground(*edges)
    try:
        return _Bench(
            table,
            _sled(sled, known),
            known["diameter"] / 2,
            saw.max_cut_mm.get(90),
            tuple(_extension(wing, table) for wing in shop.wings),
            frozenset({"wing"} if saw.forbids("wing") else ()),
        )
    except InputRefused as refused:
        return f"The facts of {sled.id} do not go together: {refused}"


_SLED_FACTS = ("weight", "size_across", "size_along", "base", "centre", "crosscut")


def _sled(sled: Fixture, known: Mapping[str, float]) -> Sled:
    return Sled(
        mass_kg=known["weight"],
        keeper_mm=known["size_across"],
        depth_mm=known["size_along"],
        base_mm=known["base"],
        centre_mm=known["centre"],
        crosscut_mm=known["crosscut"],
        fence=Side.FAR if sled.word("fence") == "far" else Side.OPERATOR,
    )


_SIDES = {"keeper": Side.KEEPER, "offcut": Side.OFFCUT, "operator": Side.OPERATOR, "far": Side.FAR}


def _extension(wing: Wing, table: Ground) -> Extension:
    """A wing lies middle on middle beside the table: nothing else is known of its place."""
    beside = wing.side in ("keeper", "offcut")
    ends = (table.operator_mm - table.far_mm) if beside else (table.keeper_mm - table.offcut_mm)
    along = (ends - wing.along_mm) / 2, (ends + wing.along_mm) / 2
    return Extension(_SIDES[wing.side], wing.out_mm, along, wing.load_tested, wing.counted_because)


def _verdict(
    done: Done, bench: _Bench | str, seen: dict[object, SupportFinding | str], *, tail_held: bool
) -> SupportFinding | str:
    if isinstance(bench, str):
        return bench
    cut, stock = done.task.cut, done.task.used.stock
    thickness = to_mm(stock.thickness)
    mark = (stock.material, thickness, cut.run, cut.span, cut.position, cut.sized)
    if mark not in seen:
        seen[mark] = _judged(cut, stock.material, thickness, bench, tail_held=tail_held)
    return seen[mark]


def _judged(cut: Cut, material: str, thickness_mm: float, bench: _Bench, *, tail_held: bool) -> SupportFinding | str:
    density = _density(material)
    if density is None:
        return f"How heavy {material or 'the material'} is, is not known here: weigh a piece."
    try:
        cuts = [_sled_cut(piece, bench) for piece in _pieces(cut, thickness_mm, density)]
    except InputRefused as refused:
        return str(refused)
    height = cuts[0].blade.height_mm
    if bench.highest_mm is not None and height - TOOTH_MM > bench.highest_mm:
        return "The blade does not reach through base and piece: it is not cut on this sled."
    held = [replace(one, tail_held=tail_held) for one in cuts]
    return min((support_of(one) for one in held), key=_badness)


def _density(material: str) -> float | None:
    """In kg/m³. A name that ends in a panel's (`birch ply`) is taken for that panel; None when it is not known."""
    for name in (material, material.rpartition(" ")[2]):
        try:
            return density_kg_m3(name)
        except InputRefused:
            continue
    return None


def _sled_cut(piece: Piece, bench: _Bench) -> SledCut:
    height = min(bench.sled.base_mm + piece.thickness_mm + TOOTH_MM, 0.999 * bench.radius_mm)
    return SledCut(
        bench.table,
        Blade(bench.radius_mm, height),
        bench.sled,
        piece,
        extensions=bench.extensions,
        maker_forbids=bench.forbids,
    )


def _pieces(cut: Cut, thickness_mm: float, density: float) -> Iterator[Piece]:
    """The piece with its keeper against the stop; where no stop is used either end may be the keeper."""
    low, high = cut.position, cut.span - cut.position - cut.kerf
    keepers: Sequence[int] = {Sized.LOW: (low,), Sized.HIGH: (high,), Sized.NONE: (low, high)}[cut.sized]
    for keeper in keepers:
        if keeper > 0:
            yield Piece(to_mm(cut.span), to_mm(cut.run), thickness_mm, density, to_mm(keeper))


def _badness(finding: SupportFinding) -> tuple[bool, int, float]:
    mends = 9 if finding.mends is None else len(finding.mends)
    return bool(finding.problems), mends, -finding.worst.margin_mm
