"""What the stations of a shop may be used for: what the maker forbids, blade and knife, metal, what was shown out.

Nothing that a person types takes a ban away: only a finding that proves the thing right does. The knife is held
against the narrowest kerf that is told: the one that the plan uses, and the one that was found here or is marked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.measure.decision import Decision
from trued.plan.bench import bench_of, wings_left_out
from trued.plan.pieces import UNITS_PER_MM
from trued.plan.station import LEAST_RIP, Reach
from trued.shop.closed import FOR_RIPS, Closed, rests_on
from trued.shop.feature import full_name, said
from trued.shop.fixture import Fixture
from trued.shop.pivoting_fence import metal_in_the_way
from trued.shop.saw import Blade, Saw
from trued.shop.shop import Shop
from trued.shop.standing import Standing
from trued.shop.thing import thing_of

__all__ = ["FOR_RIPS", "Ban", "bans_of", "blade_fault", "knife_fault", "reach_of", "rests_on", "sled_fault"]

SAME_BORE_MM = 0.2  # bores differ by millimetres, a reading of one by tenths: common practice


@dataclass(frozen=True, slots=True)
class Ban:
    """Why a station of the shop is not planned with. Nothing that a person types takes a ban away."""

    code: str
    text: str


def reach_of(
    shop: Shop | None,
    *,
    rough: bool = False,
    standings: Sequence[Standing] = (),
    kerf_mm: float | None = None,
    closed: Sequence[Closed] = (),
) -> Reach:
    """What the stations of a shop can take; without a shop a sled and a rip fence of unknown reach.

    A blade that does not suit the saw closes both; a fence shown to be out closes the rip fence; a knife or a blade
    that is not fit for a rip closes it and the sled for rips.
    kerf_mm: the kerf that is used. closed: what stays closed for what came before, until it is shown right.
    """
    if shop is None:
        return Reach(rough=rough)
    sled, saw = shop.sled, shop.saw
    unfit = saw is not None and bool(blade_fault(saw, shop.blade))
    knife = saw is not None and bool(knife_fault(saw, narrowest(shop, standings, kerf_mm), shop.blade))
    out = _out(shop, standings, closed)
    out_on_sled = _out(shop, standings, closed, on_sled=True)
    return Reach(
        sled=sled is not None and not sled_fault(saw, sled) and not unfit,
        crosscut=_units(sled.number("crosscut")) if sled is not None else None,
        fence=not (unfit or knife or out),
        rip=_units(saw.rip_mm) if saw is not None else None,
        least_rip=(_units(saw.least_rip_mm) if saw is not None else None) or LEAST_RIP,
        rough=rough,
        sled_rips=not knife and not out_on_sled,
        bench=bench_of(shop),
    )


def bans_of(
    shop: Shop,
    standings: Sequence[Standing] = (),
    *,
    kerf_mm: float | None = None,
    closed: Sequence[Closed] = (),
) -> tuple[Ban, ...]:
    """What the plan leaves out of use in this shop, and why."""
    bans = []
    saw, sled = shop.saw, shop.sled
    if sled is not None and (fault := sled_fault(saw, sled)):
        bans.append(Ban(fault.code, f"{fault.text} No cut is planned on {sled.id}."))
    if sled is None:
        bans.append(Ban("no-sled", "The shop has no sled: crosscuts are planned with a guided hand-held saw."))
    if saw is not None and (said_of := knife_fault(saw, narrowest(shop, standings, kerf_mm), shop.blade)):
        bans.append(Ban("knife", f"{said_of} No rip is planned at the rip fence or on the sled."))
    if saw is not None and (said_of := blade_fault(saw, shop.blade)):
        bans.append(Ban("blade", f"{said_of} No cut is planned on the saw."))
    if wings := wings_left_out(shop):
        why = "The maker forbids to fasten it so, or nobody has said how it is held."
        text = f"Not counted as support: {', '.join(wings)}. {why}"
        bans.append(Ban("maker-forbids-support", text))
    if saw is not None and saw.forbids("wing") and any(wing.side in ("keeper", "offcut") for wing in shop.wings):
        bans.append(Ban("maker-forbids-support", "The saw's maker forbids a wing: take it off. It is not counted."))
    if out := _out(shop, standings, closed):
        where = "at the rip fence or on the sled" if _out(shop, standings, closed, on_sled=True) else "at the rip fence"
        why_closed = {one.feature: one.why for one in closed}
        plain = [said(feature) for feature in out if feature not in why_closed]
        if plain:
            text = f"Out, sure enough: {', '.join(plain)}. No rip is planned {where}."
            bans.append(Ban("safety-out", text))
        reasons = dict.fromkeys(why_closed[feature] for feature in out if feature in why_closed)
        bans += [Ban("safety-out", f"{reason} No rip is planned {where}.") for reason in reasons]
    return tuple(bans)


def narrowest(shop: Shop, standings: Sequence[Standing], kerf_mm: float | None) -> float | None:
    """The kerf that the knife must clear: of that used and that found here (else marked) the narrower, in mm."""
    found = next(
        (s for s in standings if s.feature.rpartition(".")[2].partition("@")[0] == "kerf" and not s.stale), None
    )
    marked = shop.blade.kerf_mm if shop.blade is not None else None
    own = found.x.value if found is not None else marked
    return min((mm for mm in (kerf_mm, own) if mm is not None), default=None)


def sled_fault(saw: Saw | None, sled: Fixture) -> Ban | None:
    """Why nothing is cut on this sled, whatever the sums say; None where nothing is known against it."""
    if saw is not None and saw.forbids(sled.kind):
        return Ban("maker-forbids", f"The saw's maker forbids a {sled.kind.replace('-', ' ')}.")
    if saw is not None and saw.forbids("sled-without-guard") and sled.word("guard") != "yes":
        text = f"The saw's maker forbids a sled without a guard, and {sled.id} has none in the shop file."
        return Ban("maker-forbids", text)
    if metal_in_the_way(sled):
        return Ban("metal", f"Metal of the fence of {sled.id} stands in the blade's way.")
    return None


def knife_fault(saw: Saw, kerf_mm: float | None, blade: Blade | None) -> str:
    """A riving knife is thicker than the plate and thinner than the kerf; an unknown one is not judged here."""
    knife = saw.knife_mm
    if knife is None:
        return ""
    if knife <= 0.0:
        return "The saw has no riving knife."
    if kerf_mm is not None and knife >= kerf_mm:
        return "The riving knife is as thick as the kerf or thicker: the wood would bind on it."
    if blade is not None and blade.plate_mm is not None and knife <= blade.plate_mm:
        return "The riving knife is no thicker than the blade's plate: it would not keep the kerf open."
    return ""


def blade_fault(saw: Saw, blade: Blade | None) -> str:
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


def _out(
    shop: Shop, standings: Sequence[Standing], closed: Sequence[Closed], *, on_sled: bool = False
) -> tuple[str, ...]:
    """What a rip rests on that was shown to be out, or stays closed: nothing that a person types outweighs it."""
    names = {full_name(thing_of(bare, shop), bare) for bare in rests_on(on_sled=on_sled)}
    out = [s.feature for s in standings if s.feature in names and s.decision is Decision.PROVEN_OUT]
    out += [one.feature for one in closed if one.bare in rests_on(on_sled=on_sled)]
    return tuple(dict.fromkeys(out))


def _units(mm: float | None) -> int | None:
    return None if mm is None else round(mm * UNITS_PER_MM)
