"""Where a cut may be made: on the sled, at the rip fence, with a guided hand-held saw on the floor, or by hand.

The first station that may make it is taken: geometry first (here), then height and what carries the work (gate.py).
Where none may, the part is not made. Rules of the trade (common practice): a rip is longer than wide and long enough to
be guided; what is cut on the sled lies within its depth, a rip with its squared end against the sled's fence; nothing
wider than long goes against the rip fence; a piece large both ways is cut on the floor; what is too small to clamp down
for the guided saw is sawn by hand. What the maker forbids is not planned at all.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from trued.plan.layout.cut_tree import Axis, Cut, Node, Part, Sized
from trued.plan.layout.pieces import Stock
from trued.plan.stations.bench import Bench
from trued.plan.stations.gate import Leave, at_the_fence, by_hand, on_the_sled
from trued.plan.stations.refusal import Refusal
from trued.plan.stations.steps import Step
from trued.plan.support.support import SupportFinding


class Station(StrEnum):
    """The places to cut, in the words of a ticket."""

    SLED = "sled"
    RIP = "rip fence"
    FLOOR = "guided saw"
    HAND = "hand saw"
    NONE = "none"


_INCH = 254_000_000
LEAST_RIP = 12 * _INCH
LEAST_KEEPER = 6 * _INCH
LEAST_ON_FLOOR = 12 * _INCH
LARGE_SHEET = 36 * _INCH
NARROW_STRIP = 3 * _INCH // 2


@dataclass(frozen=True, slots=True)
class Reach:
    """What each station can take, in units; None where it is not known, and then it is not held against a cut.

    sled, fence: False where there is none, or where it must not be used.
    rough:       blanks are first cut to a rough length, off the saw, so that only short pieces lie on the sled.
    sled_rips:   False where blade or knife are not fit for a rip, wherever it is made.
    bench:       what decides height and support; None where no shop is known: then a cut is judged by its sizes alone.
    """

    sled: bool = True
    crosscut: int | None = None
    fence: bool = True
    rip: int | None = None
    least_rip: int = LEAST_RIP
    rough: bool = False
    sled_rips: bool = True
    bench: Bench | None = None


@dataclass(frozen=True, slots=True)
class Ruling:
    """Where a cut is made, and on what that rests.

    before: what is done first. waits: the fact that it waits for, "" for none. blade_mm: how high the blade stands.
    refused: the stations that come before it and may not make it, and why. finding: what carries it on the sled.
    """

    station: Station
    before: tuple[Step, ...] = ()
    waits: str = ""
    blade_mm: float | None = None
    refused: tuple[Refusal, ...] = ()
    finding: SupportFinding | None = None


def ruling_for(cut: Cut, reach: Reach, stock: Stock | None = None) -> Ruling:
    """The station of one cut of that stock, and what goes with it; Station.NONE where no station may make it."""
    refused: list[Refusal] = []
    for station in _in_turn(cut, reach):
        found = _leave(station, cut, reach, stock)
        if isinstance(found, Refusal):
            refused.append(found)
            continue
        return Ruling(station, found.before, found.waits, found.blade_mm, tuple(refused), found.finding)
    return Ruling(Station.NONE, refused=tuple(refused))


def station_for(cut: Cut, reach: Reach, stock: Stock | None = None) -> Station:
    """The station of one cut."""
    return ruling_for(cut, reach, stock).station


def _in_turn(cut: Cut, reach: Reach) -> Iterator[Station]:
    """The stations that a cut's sizes allow, the best first."""
    if min(cut.piece.length, cut.piece.width) > LARGE_SHEET:
        yield Station.FLOOR
        return
    may_rip = _may_rip(cut, reach)
    if cut.axis is Axis.ALONG and may_rip:
        yield Station.RIP
    off_the_saw = reach.rough and is_rough(cut) and max(cut.piece.length, cut.piece.width) >= LEAST_ON_FLOOR
    if reach.sled and not off_the_saw and _may_lie_on_sled(cut, reach):
        yield Station.SLED
    if cut.axis is Axis.ACROSS and may_rip:  # a wide panel, only where the edge that rides the fence is the longer one
        yield Station.RIP
    yield Station.FLOOR if max(cut.piece.length, cut.piece.width) >= LEAST_ON_FLOOR else Station.HAND


def _leave(station: Station, cut: Cut, reach: Reach, stock: Stock | None) -> Leave | Refusal:
    bench = reach.bench
    if bench is None or stock is None:
        return Leave()
    if station is Station.SLED:
        return on_the_sled(cut, stock, bench)
    if station is Station.RIP:
        return at_the_fence(cut, stock, bench, widest_known=reach.rip is not None)
    return by_hand(cut, stock, station.value)


def is_rough(cut: Cut) -> bool:
    """Whether a crosscut gives no part its length: every part in what it sizes is crosscut once more."""
    side = cut.low if cut.sized is Sized.LOW else cut.high if cut.sized is Sized.HIGH else None
    return cut.axis is Axis.ACROSS and isinstance(side, Cut) and not _leaves_a_length(side)


def _leaves_a_length(node: Node | None) -> bool:
    """Whether some part in the piece keeps the length that the piece has."""
    if isinstance(node, Cut):
        return node.axis is Axis.ALONG and any(_leaves_a_length(child) for child in (node.low, node.high))
    return isinstance(node, Part)


def needs_holding(cut: Cut) -> bool:
    """Whether the keeper of a crosscut is so short that hands come near the blade."""
    return cut.sized is not Sized.NONE and cut.setting is not None and cut.setting < LEAST_KEEPER


def _may_lie_on_sled(cut: Cut, reach: Reach) -> bool:
    """What the blade runs through lies along the travel: of a crosscut the width, of a rip the length of the piece.

    A sled of unknown depth takes a rip only of what is too short for a rip fence.
    """
    if cut.axis is Axis.ACROSS:
        return reach.crosscut is None or cut.run <= reach.crosscut
    return reach.sled_rips and cut.run <= (LEAST_RIP if reach.crosscut is None else reach.crosscut)


def _may_rip(cut: Cut, reach: Reach) -> bool:
    against_fence = cut.setting if cut.setting is not None else cut.span
    within = reach.rip is None or against_fence <= reach.rip
    return reach.fence and cut.run >= reach.least_rip and cut.run >= cut.span and within
