"""Where a cut may be made: on the sled, at the rip fence, with a guided hand-held saw on the floor, or by hand.

Rules of the trade (common practice): a rip is longer than wide and long enough to be guided; what is cut on the sled
lies within its depth, a rip with its squared end against the sled's fence; nothing wider than long goes against the
rip fence; a piece large both ways is cut on the floor; what
is too small to clamp down for the guided saw is sawn by hand. What the maker forbids is not planned at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from trued.measure.decision import Decision
from trued.plan.pieces import UNITS_PER_MM
from trued.plan.tree import Axis, Cut, Node, Part, Sized
from trued.shop.feature import full_name, said
from trued.shop.pivoting_fence import metal_in_the_way
from trued.shop.saw import Blade, Saw
from trued.shop.shop import Shop
from trued.shop.standing import Standing
from trued.shop.thing import thing_of


class Station(StrEnum):
    """The places to cut, in the words of a ticket."""

    SLED = "sled"
    RIP = "rip fence"
    FLOOR = "guided saw"
    HAND = "hand saw"


_INCH = 254_000_000
LEAST_RIP = 12 * _INCH
LEAST_KEEPER = 6 * _INCH
LEAST_ON_FLOOR = 12 * _INCH
LARGE_SHEET = 36 * _INCH
NARROW_STRIP = 3 * _INCH // 2
SAME_BORE_MM = 0.2  # bores differ by millimetres, a reading of one by tenths: common practice

FOR_RIPS = ("blade-parallel", "rip-toe", "rip-pinch", "knife", "knife-over-plate", "knife-under-kerf")
"""Safety features that every rip at the fence rests on."""

_FENCE_ALONE = ("rip-toe", "rip-pinch")
"""Of these, what a rip on the sled does not rest on."""


def rests_on(*, on_sled: bool) -> tuple[str, ...]:
    """What a rip at the fence rests on, or one on the sled."""
    return tuple(bare for bare in FOR_RIPS if not (on_sled and bare in _FENCE_ALONE))


@dataclass(frozen=True, slots=True)
class Reach:
    """What each station can take, in units; None where it is not known, and then it is not held against a cut.

    sled, fence: False where there is none, or where it must not be used.
    rough:       blanks are first cut to a rough length, off the saw, so that only short pieces lie on the sled.
    sled_rips:   False where blade or knife are not fit for a rip, wherever it is made.
    """

    sled: bool = True
    crosscut: int | None = None
    fence: bool = True
    rip: int | None = None
    least_rip: int = LEAST_RIP
    rough: bool = False
    sled_rips: bool = True


@dataclass(frozen=True, slots=True)
class Ban:
    """Why a station of the shop is not planned with. Nothing that a person types takes a ban away."""

    code: str
    text: str


def reach_of(shop: Shop | None, *, rough: bool = False, standings: Sequence[Standing] = ()) -> Reach:
    """What the stations of a shop can take; without a shop a sled and a rip fence of unknown reach.

    A blade that does not suit the saw closes both; a fence shown to be out closes the rip fence; a knife or a blade
    that is not fit for a rip closes it and the sled for rips.
    """
    if shop is None:
        return Reach(rough=rough)
    sled, saw = shop.sled, shop.saw
    forbidden = saw is not None and sled is not None and saw.forbids(sled.kind)
    unfit = saw is not None and bool(_blade_fault(saw, shop.blade))
    metal = sled is not None and metal_in_the_way(sled)
    knife_fault = saw is not None and bool(_knife_fault(saw, shop.blade))
    no_rip = unfit or knife_fault or bool(_shown_out(shop, standings))
    return Reach(
        sled=sled is not None and not forbidden and not unfit and not metal,
        crosscut=_units(sled.number("crosscut")) if sled is not None else None,
        fence=not no_rip,
        rip=_units(saw.rip_mm) if saw is not None else None,
        least_rip=(_units(saw.least_rip_mm) if saw is not None else None) or LEAST_RIP,
        rough=rough,
        sled_rips=not knife_fault and not _shown_out(shop, standings, on_sled=True),
    )


def bans_of(shop: Shop, standings: Sequence[Standing] = ()) -> tuple[Ban, ...]:
    """What the plan leaves out of use in this shop, and why."""
    bans = []
    saw, sled = shop.saw, shop.sled
    if saw is not None and sled is not None and saw.forbids(sled.kind):
        text = f"The saw's maker forbids a {sled.kind.replace('-', ' ')}: no cut is planned on {sled.id}."
        bans.append(Ban("maker-forbids", text))
    if sled is not None and metal_in_the_way(sled):
        text = f"Metal of the fence of {sled.id} stands in the blade's way: no cut is planned on it."
        bans.append(Ban("metal", text))
    if sled is None:
        bans.append(Ban("no-sled", "The shop has no sled: crosscuts are planned with a guided hand-held saw."))
    if saw is not None and (fault := _knife_fault(saw, shop.blade)):
        bans.append(Ban("knife", f"{fault} No rip is planned at the rip fence or on the sled."))
    if saw is not None and (fault := _blade_fault(saw, shop.blade)):
        bans.append(Ban("blade", f"{fault} No cut is planned on the saw."))
    if out := _shown_out(shop, standings):
        where = "at the rip fence or on the sled" if _shown_out(shop, standings, on_sled=True) else "at the rip fence"
        text = f"Out, sure enough: {', '.join(said(feature) for feature in out)}. No rip is planned {where}."
        bans.append(Ban("safety-out", text))
    return tuple(bans)


def station_for(cut: Cut, reach: Reach) -> Station:
    """The station of one cut."""
    if min(cut.piece.length, cut.piece.width) > LARGE_SHEET:
        return Station.FLOOR
    if cut.axis is Axis.ALONG and _may_rip(cut, reach):
        return Station.RIP
    off_the_saw = reach.rough and is_rough(cut) and max(cut.piece.length, cut.piece.width) >= LEAST_ON_FLOOR
    if reach.sled and not off_the_saw and _may_lie_on_sled(cut, reach):
        return Station.SLED
    return _off_the_sled(cut, reach)


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


def _off_the_sled(cut: Cut, reach: Reach) -> Station:
    """A wide panel may be crosscut at the rip fence only where the edge that rides the fence is the longer one."""
    if _may_rip(cut, reach):
        return Station.RIP
    return Station.FLOOR if max(cut.piece.length, cut.piece.width) >= LEAST_ON_FLOOR else Station.HAND


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


def _knife_fault(saw: Saw, blade: Blade | None) -> str:
    """A riving knife is thicker than the plate and thinner than the kerf; an unknown one is not judged here."""
    knife = saw.knife_mm
    if knife is None:
        return ""
    if knife <= 0.0:
        return "The saw has no riving knife."
    if blade is not None and blade.kerf_mm is not None and knife >= blade.kerf_mm:
        return "The riving knife is as thick as the kerf or thicker: the wood would bind on it."
    if blade is not None and blade.plate_mm is not None and knife <= blade.plate_mm:
        return "The riving knife is no thicker than the blade's plate: it would not keep the kerf open."
    return ""


def _blade_fault(saw: Saw, blade: Blade | None) -> str:
    """A blade that is too large, too slow for the saw or of another bore; what is not known is not judged here."""
    if blade is None:
        return ""
    if _above(blade.diameter_mm, saw.largest_blade_mm):
        return "The blade is larger than the saw takes."
    if _above(saw.speed_rpm, blade.max_speed_rpm):
        return "The saw turns faster than the blade may."
    if blade.bore_mm is not None and saw.arbor_mm is not None and abs(blade.bore_mm - saw.arbor_mm) > SAME_BORE_MM:
        return "The bore of the blade is not that of the saw's arbor."
    return ""


def _above(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and one > other


def _shown_out(shop: Shop, standings: Sequence[Standing], *, on_sled: bool = False) -> tuple[str, ...]:
    """What a rip rests on that was shown to be out and not mended since: nothing that a person types outweighs it."""
    names = {full_name(thing_of(bare, shop), bare) for bare in rests_on(on_sled=on_sled)}
    return tuple(s.feature for s in standings if s.feature in names and s.decision is Decision.PROVEN_OUT)


def _units(mm: float | None) -> int | None:
    return None if mm is None else round(mm * UNITS_PER_MM)
