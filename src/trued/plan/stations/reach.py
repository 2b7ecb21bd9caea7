"""What the stations of a shop may be used for: what the maker forbids, blade and knife, metal, what was shown out.

Nothing that a person types takes a ban away: only a finding that proves the thing right does. The knife is held
against the narrowest kerf that is told: the one that the plan uses, and the one that was found here or is marked.
"""

from __future__ import annotations

from collections.abc import Sequence

from trued.advice.closures import FOR_RIPS, INSERT, Closed, rests_on
from trued.equipment.shop import Shop
from trued.measure.decision import Conformity
from trued.plan.layout.pieces import UNITS_PER_MM
from trued.plan.stations.bench import bench_of, wings_left_out
from trued.plan.stations.station import LEAST_RIP, Reach
from trued.standing.bans import Ban, blade_fault, knife_fault, narrowest, sled_fault
from trued.standing.feature import full_name, said
from trued.standing.feature_status import FeatureStatus
from trued.standing.owner import owner_of

__all__ = ["FOR_RIPS", "Ban", "bans_of", "blade_fault", "knife_fault", "reach_of", "rests_on", "sled_fault"]


def reach_of(
    shop: Shop | None,
    *,
    rough: bool = False,
    standings: Sequence[FeatureStatus] = (),
    kerf_mm: float | None = None,
    closed: Sequence[Closed] = (),
) -> Reach:
    """What the stations of a shop can take; without a shop a sled and a rip fence of unknown reach.

    A blade that does not suit the saw, or an insert shown to be out, closes both; a fence shown to be out closes
    the rip fence; a knife or a blade that is not fit for a rip closes it and the sled for rips.
    kerf_mm: the kerf that is used. closed: what stays closed for what came before, until it is shown right.
    """
    if shop is None:
        return Reach(rough=rough)
    sled, saw = shop.sled, shop.saw
    unfit = saw is not None and bool(blade_fault(saw, shop.blade))
    unfit = unfit or bool(_shown_out(shop, standings, closed, INSERT))
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
    standings: Sequence[FeatureStatus] = (),
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
    insert = _shown_out(shop, standings, closed, INSERT)
    bans += [Ban("insert", f"{why} No cut is planned on the saw.") for why in _reasons(insert, closed)]
    if out := _out(shop, standings, closed):
        where = "at the rip fence or on the sled" if _out(shop, standings, closed, on_sled=True) else "at the rip fence"
        bans += [Ban("safety-out", f"{why} No rip is planned {where}.") for why in _reasons(out, closed)]
    return tuple(bans)


def _reasons(out: Sequence[str], closed: Sequence[Closed]) -> tuple[str, ...]:
    """Why these are closed, each reason once."""
    why_closed = {one.feature: one.why for one in closed}
    plain = [said(feature) for feature in out if feature not in why_closed]
    first = (f"Out of tolerance: {', '.join(plain)}.",) if plain else ()
    return (*first, *dict.fromkeys(why_closed[feature] for feature in out if feature in why_closed))


def _out(
    shop: Shop, standings: Sequence[FeatureStatus], closed: Sequence[Closed], *, on_sled: bool = False
) -> tuple[str, ...]:
    """What a rip rests on that was shown to be out, or stays closed."""
    return _shown_out(shop, standings, closed, rests_on(on_sled=on_sled))


def _shown_out(
    shop: Shop, standings: Sequence[FeatureStatus], closed: Sequence[Closed], features: Sequence[str]
) -> tuple[str, ...]:
    """Which of these was shown to be out, or stays closed: nothing that a person types outweighs it."""
    names = {full_name(owner_of(bare, shop), bare) for bare in features}
    out = [s.feature for s in standings if s.feature in names and s.decision is Conformity.PROVEN_OUT]
    out += [one.feature for one in closed if one.bare in features]
    return tuple(dict.fromkeys(out))


def _units(mm: float | None) -> int | None:
    return None if mm is None else round(mm * UNITS_PER_MM)
