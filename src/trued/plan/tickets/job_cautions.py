"""Cautions that belong to the plan as a whole; those of a single cut stand on its ticket."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from trued.advice.closures import INSERT, rests_on
from trued.equipment.shop import Shop
from trued.measure.decision import SAID, Conformity
from trued.plan.layout.cut_tree import Axis
from trued.plan.order.order import Order
from trued.plan.stations.station import Station
from trued.plan.support.support import CAUTIONS
from trued.plan.tickets.ticket import Ticket
from trued.standing.feature import feature_of, full_name, said
from trued.standing.feature_status import FeatureStatus
from trued.standing.owner import owner_of

_ALWAYS = (
    "The saw maker's manual, local rules and licensed trades go before this plan.",
    "The plan says nothing of what it did not look at.",
    "Eye and ear protection, no gloves and nothing loose at the blade; dust taken off at its source, with a mask.",
    "Turn the blade by hand through the whole travel before power, so that it meets no metal.",
)
_AT = {
    Station.SLED: (
        "The stop stands on the keeper side only, so that the offcut lies free; the rip fence is no length stop.",
        *CAUTIONS,
    ),
    Station.RIP: (
        "Rips: riving knife on, a straight edge along the fence, a flat face down; never wider than long or freehand.",
        "Board closing on the knife? Saw off, blade stopped, then wedge it.",
    ),
    Station.FLOOR: ("Sheets are broken down on the floor over foam with the guided saw; two people, lift with legs.",),
    Station.HAND: ("What no machine here may cut is sawn by hand and planed to its line.",),
}


_GUARD_OFF = (
    "Before the sled goes on: the manual allows a sled, its weight, and the guard off for it.",
    "Guard and knife go back on when the cuts on the sled are done.",
)
_GUARD_ON = (
    "The saw's maker forbids the sled without the guard: the guard stays on for every cut on it.",
    "Before the sled goes on: the manual allows a sled and its weight; the knife stays, or goes back on after.",
)


@dataclass(frozen=True, slots=True)
class Safety:
    """A safety item that this plan's cuts rest on and that is not shown to be right; not proven counts as not ready.

    state: how it stands, in words.
    """

    feature: str
    decision: Conformity | None
    state: str

    @property
    def text(self) -> str:
        """One sentence for the person."""
        return f"Before the first rip: {said(self.feature)}, {self.state}. Not checked means not ready."


def before_the_rip(items: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """What stands before the first rip, of (feature, state): one sentence for each state."""
    states: dict[str, list[str]] = {}
    for feature, state in items:
        states.setdefault(state, []).append(said(feature))
    return tuple(
        f"Before the first rip, {state}: {', '.join(names)}. Not checked means not ready."
        for state, names in states.items()
    )


def cautions_for(stations: Sequence[str], shop: Shop | None) -> tuple[str, ...]:
    """The cautions for a plan that uses these stations."""
    return tuple(_cautions(set(stations), shop))


def safety_for(order: Order | None, shop: Shop, standings: Sequence[FeatureStatus]) -> tuple[Safety, ...]:
    """What must be looked at before the first rip, whatever the job needs."""
    cuts = [(done.task.key[0], done.task.cut.axis) for done in order.cuts] if order is not None else []
    at_fence = any(station is Station.RIP for station, _ in cuts)
    if not at_fence and (Station.SLED, Axis.ALONG) not in cuts:
        return ()
    known = {standing.feature: standing for standing in standings}
    features = (bare for bare in rests_on(on_sled=not at_fence) if feature_of(bare).safety)
    names = (full_name(owner_of(bare, shop), bare) for bare in features)
    return tuple(_safety(name, known.get(name)) for name in names if not _is_in(known.get(name)))


def unlooked(tickets: Sequence[Ticket], shop: Shop, standings: Iterable[FeatureStatus]) -> tuple[tuple[str, str], ...]:
    """What nobody has looked up or shown right for cuts on the saw: (id of the first ticket it touches, words)."""
    return tuple(_unlooked(tickets, shop, {standing.feature: standing for standing in standings}))


def _unlooked(tickets: Sequence[Ticket], shop: Shop, known: Mapping[str, FeatureStatus]) -> Iterator[tuple[str, str]]:
    on_saw = [ticket.id for ticket in tickets if ticket.station in (Station.SLED, Station.RIP)]
    on_sled = [ticket.id for ticket in tickets if ticket.station == Station.SLED]
    saw, blade, sled = shop.saw, shop.blade, shop.sled
    if not on_saw or saw is None:
        return
    if saw.maker_forbids is None:
        text = "Nobody has said yet what the saw's maker forbids: look it up in the manual before the first cut."
        yield on_saw[0], text
    insert = [known.get(full_name(owner_of(bare, shop), bare)) for bare in INSERT]
    if not all(_is_in(standing) for standing in insert):
        how = "was never checked here" if not any(insert) else "is not shown level here"
        yield on_saw[0], f"The insert {how}, and work can catch on it: check it before the first cut on the saw."
    pairs = {
        "diameter": (blade.diameter_mm if blade is not None else None, saw.largest_blade_mm),
        "bore": (blade.bore_mm if blade is not None else None, saw.arbor_mm),
        "speed": (blade.max_speed_rpm if blade is not None else None, saw.speed_rpm),
    }
    unknown = [name for name, pair in pairs.items() if None in pair]
    if unknown:
        text = (
            f"Nobody has said yet whether the blade suits the saw by {' and '.join(unknown)}: read both before power."
        )
        yield on_saw[0], text
    if on_sled and sled is not None:
        metal = {name: sled.number(name) for name in ("pivot_beside", "metal_end", "metal_front", "metal_back")}
        if any(mm is not None for mm in metal.values()) and (
            metal["pivot_beside"] is None or metal["metal_end"] is None
        ):
            yield on_sled[0], f"Not known how near metal of {sled.id} comes to the blade: turn the blade by hand first."


def first_rip(tickets: Sequence[Ticket]) -> str:
    """The id of the first rip at the fence or on the sled; "" where there is none."""
    rips = (
        t.id for t in tickets if t.station == Station.RIP or (t.station == Station.SLED and t.work.run == Axis.ALONG)
    )
    return next(rips, "")


def stop_cautions(ticket: Ticket, shop: Shop) -> tuple[str, ...]:
    """What a stop needs that stands past the end of the sled."""
    base = shop.sled.number("size_across") if shop.sled is not None else None
    past = ticket.station == Station.SLED and ticket.setting_mm is not None and base and ticket.setting_mm > base
    return (
        ("The stop stands past the end of the sled: on an arm or a longer fence that does not give.",) if past else ()
    )


def _cautions(stations: set[str], shop: Shop | None) -> Iterator[str]:
    yield from _ALWAYS
    for station, said_there in _AT.items():
        if station in stations:
            yield from said_there
    saw = shop.saw if shop is not None else None
    if Station.SLED in stations:
        yield from _GUARD_ON if saw is not None and saw.forbids("sled-without-guard") else _GUARD_OFF


def _is_in(standing: FeatureStatus | None) -> bool:
    return standing is not None and standing.decision is Conformity.PROVEN_IN and not standing.stale


def _safety(feature: str, standing: FeatureStatus | None) -> Safety:
    if standing is None:
        return Safety(feature, None, "never checked here")
    if standing.stale:
        return Safety(feature, standing.decision, "in doubt since it was last checked")
    decision = standing.decision
    return Safety(feature, decision, SAID[decision] if decision is not None else "not judged")
