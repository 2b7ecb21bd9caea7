"""Where a cut may be made: on the sled, at the rip fence, or with a guided hand-held saw on the floor.

Rules of the trade (common practice): a rip is longer than wide and long enough to be guided; a crosscut lies within
the sled's depth; nothing wider than long goes against the rip fence; what suits neither is cut on the floor.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from trued.plan.pieces import UNITS_PER_MM
from trued.plan.tree import Axis, Cut, Sized
from trued.shop.shop import Shop


class Station(StrEnum):
    """The three places to cut, in the words of a ticket."""

    SLED = "sled"
    RIP = "rip fence"
    FLOOR = "guided saw"


_INCH = 254_000_000
LEAST_RIP = 12 * _INCH
LEAST_KEEPER = 6 * _INCH
LARGE_SHEET = 36 * _INCH


@dataclass(frozen=True, slots=True)
class Reach:
    """What each station can take, in units; None where it is not known, and then it is not held against a cut.

    `sled` is False where there is none, or the saw's maker forbids it.
    """

    sled: bool = True
    crosscut: int | None = None
    rip: int | None = None
    least_rip: int = LEAST_RIP


def reach_of(shop: Shop | None) -> Reach:
    """What the stations of a shop can take; without a shop a sled and a rip fence of unknown reach."""
    if shop is None:
        return Reach()
    sled, saw = shop.sled, shop.saw
    forbidden = saw is not None and sled is not None and saw.forbids(sled.kind)
    return Reach(
        sled=sled is not None and not forbidden,
        crosscut=_units(sled.number("crosscut")) if sled is not None else None,
        rip=_units(saw.rip_mm) if saw is not None else None,
        least_rip=(_units(saw.least_rip_mm) if saw is not None else None) or LEAST_RIP,
    )


def station_for(cut: Cut, reach: Reach) -> Station:
    """The station of one cut."""
    if min(cut.piece.length, cut.piece.width) > LARGE_SHEET:
        return Station.FLOOR
    if cut.axis is Axis.ALONG and _may_rip(cut, reach):
        return Station.RIP
    on_sled = reach.sled and (reach.crosscut is None or cut.run <= reach.crosscut)
    return Station.SLED if on_sled else _last_resort(cut, reach)


def _last_resort(cut: Cut, reach: Reach) -> Station:
    """A wide panel may be crosscut at the rip fence only where the edge that rides the fence is the longer one."""
    return Station.RIP if _may_rip(cut, reach) else Station.FLOOR


def _may_rip(cut: Cut, reach: Reach) -> bool:
    against_fence = cut.setting if cut.setting is not None else cut.span
    within = reach.rip is None or against_fence <= reach.rip
    return cut.run >= reach.least_rip and cut.run >= cut.span and within


def needs_holding(cut: Cut) -> bool:
    """Whether the keeper of a crosscut is so short that hands come near the blade."""
    return cut.sized is not Sized.NONE and cut.setting is not None and cut.setting < LEAST_KEEPER


def _units(mm: float | None) -> int | None:
    return None if mm is None else round(mm * UNITS_PER_MM)
